#include "winkhold/taps/hindsight/hindsight.hpp"

#include "winkhold/taps/hindsight/detail/lattice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace winkhold::taps {
namespace {

constexpr double impossible = -std::numeric_limits<double>::infinity();

// Common practice, no source: a request has some seven flashes; a rhythm stays for some ten; a hazard hardly
// ever lights one side only, while riders do flick from side to side.
const double log_ends = std::log(0.15);
const double log_goes_on = std::log(0.85);
const double log_starts = std::log(1.0 / 3);
const double log_alone = std::log(0.0001);
const double log_same_rhythm = std::log(0.9);
const double log_other_rhythm = std::log(0.1);

int indication_of(int state) {
    return state & 3;
}
std::size_t rhythm_of(int state) {
    return static_cast<std::size_t>(state >> 2);
}
bool asks(int state, std::size_t side) {
    return ((state >> side) & 1) != 0;
}
bool has(std::uint8_t mask, std::size_t side) {
    return ((mask >> side) & 1) != 0;
}

/// The weights of all moves, from steps and rhythms.
class Model {
public:
    Model(const std::vector<LightStep>& steps, TimeUs end_us) : steps_(steps), end_us_(end_us) {}

    Lattice lattice(const Rhythms& rhythms) const {
        Lattice lattice{
            .start = StateColumn::Constant(impossible),
            .end = end(rhythms),
            .steps = steps_.size(),
            .step = [this, &rhythms](std::size_t k, StateTable& table) { fill(k, rhythms, table); }};
        lattice.start(0) = 0;
        if (rhythms.two) lattice.start(4) = 0;
        return lattice;
    }

    /// Lengths that each rhythm's ordinary phases have, weighted by what the posterior says.
    Rhythms learn(const Rhythms& now, const Rhythms& guess) const {
        LengthEstimate on[2][2];
        LengthEstimate dark[2][2];
        posteriors(lattice(now), [&](std::size_t k, const StateTable& moves) {
            const LightStep& step = steps_[k];
            for (const std::size_t side : {0, 1}) {
                if (!has(step.rises | step.falls, side)) continue;
                const auto us = static_cast<double>(step.lasted_us[side]);
                double weight[2]{0, 0};
                for (int from = 0; from < lattice_states; ++from)
                    for (int to = 0; to < lattice_states; ++to)
                        if (asks(from, side) && asks(to, side)) weight[rhythm_of(from)] += moves(from, to);
                for (const std::size_t r : {0, 1}) {
                    if (weight[r] == 0) continue;
                    const Rhythm& rhythm = now.of[side][r];
                    if (has(step.rises, side))
                        dark[side][r].add(weight[r] * rhythm.ordinary_gap(us), us);
                    else
                        on[side][r].add(weight[r] * rhythm.ordinary_light(us), us);
                }
            }
        });
        Rhythms learnt = guess;
        for (const std::size_t side : {0, 1}) {
            for (const std::size_t r : {0, 1})
                learnt.of[side][r] = {on[side][r].over(guess.of[side][r].on),
                                      dark[side][r].over(guess.of[side][r].dark)};
            if (!learnt.two) learnt.of[side][1] = learnt.of[side][0];
        }
        return learnt;
    }

private:
    /// One side of one step: [rhythm][asked before][asked after].
    using SideWeights = double[2][2][2];

    void weigh(std::size_t k, std::size_t side, const Rhythms& rhythms, SideWeights& weights) const {
        const LightStep& step = steps_[k];
        const auto us = static_cast<double>(step.lasted_us[side]);
        const bool rises = has(step.rises, side);
        const bool falls = has(step.falls, side);
        for (const std::size_t r : {0, 1}) {
            const Rhythm& rhythm = rhythms.of[side][r];
            auto& w = weights[r];
            w[0][0] = w[0][1] = w[1][0] = w[1][1] = impossible;
            if (rises) {
                const bool first = step.lasted_us[side] == never_us;
                w[0][1] = log_starts + (first ? 0 : log_gap_between(us));
                if (!first) w[1][1] = rhythm.log_gap_within(us);
            } else if (falls) {
                w[1][1] = log_goes_on + rhythm.log_light_within(us);
                w[1][0] = log_ends + rhythm.log_light_last(us);
            } else {
                w[1][1] = 0;
                if (!has(step.lit, side)) w[0][0] = 0;
            }
        }
    }

    void fill(std::size_t k, const Rhythms& rhythms, StateTable& table) const {
        const LightStep& step = steps_[k];
        SideWeights side_weights[2];
        for (const std::size_t side : {0, 1})
            weigh(k, side, rhythms, side_weights[side]);
        // the side that stays dark while the other one goes on
        const int dark = step.rises == 1 && !has(step.lit, 1) && !has(step.falls, 1)   ? 1
                         : step.rises == 2 && !has(step.lit, 0) && !has(step.falls, 0) ? 0
                                                                                       : -1;
        const int states = rhythms.two ? lattice_states : lattice_states / 2;
        table.setConstant(impossible);
        for (int from = 0; from < states; ++from)
            for (int to = 0; to < states; ++to) {
                const std::size_t r = rhythm_of(from);
                double weight = side_weights[0][r][asks(from, 0)][asks(to, 0)] +
                                side_weights[1][r][asks(from, 1)][asks(to, 1)];
                if (dark >= 0 && asks(to, static_cast<std::size_t>(dark))) weight += log_alone;
                if (rhythms.two) weight += log_rhythm(step, from, to);
                table(from, to) = weight;
            }
    }

    static double log_rhythm(const LightStep& step, int from, int to) {
        const bool same = rhythm_of(from) == rhythm_of(to);
        if (step.rises == 0) return same ? 0 : impossible;
        return same ? log_same_rhythm : log_other_rhythm;
    }

    StateColumn end(const Rhythms& rhythms) const {
        StateColumn weights = StateColumn::Zero();
        for (const std::size_t side : {0, 1}) {
            const auto bit = static_cast<std::uint8_t>(1 << side);
            const auto last = std::find_if(steps_.rbegin(), steps_.rend(), [bit](const LightStep& step) {
                return ((step.rises | step.falls) & bit) != 0;
            });
            if (last == steps_.rend()) continue;
            const auto us = static_cast<double>(std::max<TimeUs>(0, end_us_ - last->t_us));
            for (int state = 0; state < lattice_states; ++state) {
                const Rhythm& rhythm = rhythms.of[side][rhythm_of(state)];
                weights(state) += (last->rises & bit) != 0 ? rhythm.log_light_open(us)
                                  : asks(state, side)      ? rhythm.log_gap_open(us)
                                                           : log_gap_between_open(us);
            }
        }
        return weights;
    }

    const std::vector<LightStep>& steps_;
    TimeUs end_us_;
};

Smoothed explain(const std::vector<LightStep>& steps, TimeUs start_us, TimeUs end_us) {
    constexpr int rounds = 4; // centres stand still after two or three
    const Model model(steps, end_us);
    const Rhythms guess = guess_rhythms(steps);
    Rhythms rhythms = guess;
    for (int round = 0; round < rounds; ++round)
        rhythms = model.learn(rhythms, guess);

    const Lattice lattice = model.lattice(rhythms);
    const std::vector<std::uint8_t> path = best_path(lattice);
    const StateColumns states = posteriors(lattice, [](std::size_t, const StateTable&) {}).states;
    Smoothed smoothed{.timeline = {},
                      .confidence = {},
                      .rhythms = rhythms,
                      .start_us = start_us,
                      .end_us = end_us,
                      .known_from_us = gaps_known_from_us(steps)};
    for (std::size_t k = 0; k < path.size(); ++k) {
        const TimeUs t_us = k == 0 ? start_us : steps[k - 1].t_us;
        const int shown = indication_of(path[k]);
        const auto column = states.col(static_cast<Eigen::Index>(k));
        const double sure = std::min(1.0, column(shown) + column(shown + 4));
        if (!smoothed.timeline.empty() && smoothed.timeline.back().t_us == t_us) {
            smoothed.timeline.pop_back(); // lit from the start
            smoothed.confidence.pop_back();
        }
        const auto indication = static_cast<core::Indication>(shown);
        if (!smoothed.timeline.empty() && smoothed.timeline.back().indication == indication) {
            smoothed.confidence.back() = std::min(smoothed.confidence.back(), sure);
            continue;
        }
        smoothed.timeline.push_back({t_us, indication});
        smoothed.confidence.push_back(sure);
    }
    return smoothed;
}

} // namespace

TimeUs hazard_skew_us(const core::Settings& settings) {
    return settings.handover_us != 0 ? settings.handover_us : core::Settings{}.handover_us;
}

Smoother::Smoother(const core::Settings& settings) : lights_(settings), skew_us_(hazard_skew_us(settings)) {}

void Smoother::feed(const Edge& edge) {
    if (start_us_ < 0) start_us_ = edge.t_us;
    lights_.feed(edge);
}

Smoothed Smoother::finish(TimeUs end_us) {
    lights_.finish(end_us);
    return explain(lights_.steps(skew_us_), std::max<TimeUs>(0, start_us_), end_us);
}

Smoothed smooth(const Trace& trace, const core::Settings& settings) {
    Smoother smoother(settings);
    for (const Edge& edge : trace.edges)
        smoother.feed(edge);
    return smoother.finish(trace.end_us);
}

} // namespace winkhold::taps
