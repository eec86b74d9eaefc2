#include "winkhold/taps/trace/phases.hpp"

#include "winkhold/core/hold.hpp"
#include "winkhold/core/intent.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

using core::Side;

/// Lets the core's Intent judge a stream of edges, and turns its verdicts into phases: a side is shown from
/// the moment a light of it counts, through the silence after that light, until it is let go.
class PhaseFinder {
public:
    PhaseFinder(const core::Settings& settings, Phases& phases)
        : context_(settings), phases_(phases), settler_(settings) {
        for (auto& side : phases_)
            side.clear();
    }

    void feed(const Edge& edge) {
        const auto take = [this](const SettledEdgeAt& settled) { keep(settled); };
        const bool supply = edge.lines.has(core::Lines::supply);
        if (supply != supply_) settler_.finish(edge.t_us - 1, take);
        settler_.feed(edge, take);
        if (supply == supply_) return;
        begin_moment(edge.t_us);
        now_.supply_moved = true;
        now_.supply_up = supply_ = supply;
    }

    void finish(TimeUs end_us) {
        settler_.finish(end_us, [this](const SettledEdgeAt& settled) { keep(settled); });
        begin_moment(end_us + 1);
    }

private:
    std::vector<Phase>& phases(Side side) { return phases_[static_cast<std::size_t>(side)]; }

    /// Edges of one moment are judged together.
    void keep(const SettledEdgeAt& edge) {
        begin_moment(edge.t_us);
        (edge.rise ? now_.rose : now_.fell).add(edge.side);
        if (!edge.rise) now_.last_high = core::moment(to_core(edge.last_high_us));
    }

    /// Everything before `t_us` is judged.
    void begin_moment(TimeUs t_us) {
        if (t_us == now_us_) return;
        while (std::min(due_us_, now_us_) < t_us)
            judge_at(std::min(due_us_, now_us_));
        now_us_ = t_us;
    }

    void judge_at(TimeUs t_us) {
        const core::Context& c = at(t_us);
        const core::Happening what = t_us == now_us_ ? now_ : core::Happening{};
        if (t_us == now_us_) {
            now_ = core::Happening{};
            now_us_ = never_us;
        }
        intent_.judge(what, c);
        for (const Side side : core::both_sides)
            follow(side, what, t_us);
        core::Soonest soonest(c.now);
        intent_.wait(soonest);
        due_us_ = soonest.wait_us() == core::forever_us ? never_us : t_us + soonest.wait_us();
    }

    void follow(Side side, const core::Happening& what, TimeUs t_us) {
        bool& burning = burning_[static_cast<std::size_t>(side)];
        const bool asked = intent_.asked(side);
        const bool burns = asked && intent_.burning(side);
        auto& phases = this->phases(side);
        if (burns && !burning) phases.push_back({.rise_us = t_us});
        if (burning && !burns && asked) {
            hold(phases.back(), t_us - core::elapsed_us(context_.now, what.last_high), t_us,
                 intent_.on_beat(side));
        }
        if (!asked && !phases.empty()) phases.back().limit_us = std::min(phases.back().limit_us, t_us);
        burning = burns;
    }

    /// What the swept setting decides about the silence that begins. It ends at `t_us` at the earliest.
    void hold(Phase& phase, TimeUs last_high_us, TimeUs t_us, bool on_beat) const {
        phase.last_high_us = last_high_us;
        if (context_.rule == core::HoldRule::fixed) {
            phase.base_us = last_high_us;
            return;
        }
        phase.limit_us = std::min(phase.limit_us, std::max(t_us, last_high_us + context_.hold_us));
        if (const core::Span gap_us = core::expected_gap_us(intent_.rhythm(), on_beat, context_); gap_us != 0)
            phase.base_us = last_high_us + gap_us;
    }

    const core::Context& at(TimeUs t_us) {
        context_.now = core::moment(to_core(t_us));
        return context_;
    }

    core::Context context_;
    Phases& phases_;
    LineSettler settler_;
    core::Intent intent_;
    core::Happening now_;     ///< what has settled at now_us_
    TimeUs now_us_{never_us}; ///< not judged yet; never_us: nothing is
    TimeUs due_us_{never_us};
    bool burning_[2]{};
    bool supply_{false};
};

} // namespace

void find_phases(const Trace& trace, const core::Settings& settings, Phases& phases) {
    PhaseFinder finder(settings, phases);
    for (const Edge& edge : trace.edges)
        finder.feed(edge);
    finder.finish(trace.end_us);
}

TimeUs find_phases(EdgeSource& source, const core::Settings& settings, Phases& phases) {
    PhaseFinder finder(settings, phases);
    Edge edge;
    while (source.next(edge)) {
        finder.feed(edge);
        check_flashes(std::max(phases[0].size(), phases[1].size()));
    }
    finder.finish(source.end_us());
    check_flashes(std::max(phases[0].size(), phases[1].size()));
    return source.end_us();
}

} // namespace winkhold::taps
