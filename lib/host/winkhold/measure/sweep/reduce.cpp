#include "winkhold/measure/sweep/reduce.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

using core::Side;
using Ramp = FigureResponse::Ramp;
using Stretch = FigureResponse::Stretch;

/// One side's phases, asked about in rough order of time.
class SidePhases {
public:
    explicit SidePhases(const std::vector<Phase>& phases) : phases_(phases) {}

    /// Index of the last phase that rose by `t_us`; -1 if none did.
    std::ptrdiff_t at(TimeUs t_us) {
        while (hint_ >= 0 && (*this)[hint_].rise_us > t_us)
            --hint_;
        while (hint_ + 1 < size() && (*this)[hint_ + 1].rise_us <= t_us)
            ++hint_;
        return hint_;
    }
    const Phase& operator[](std::ptrdiff_t i) const { return phases_[static_cast<std::size_t>(i)]; }
    std::ptrdiff_t size() const { return static_cast<std::ptrdiff_t>(phases_.size()); }
    TimeUs rise_us(std::ptrdiff_t i) const { return i < size() ? (*this)[i].rise_us : never_us; }

private:
    const std::vector<Phase>& phases_;
    std::ptrdiff_t hint_{-1};
};

/// Least value that bridges from `phase` to `t_us`, if none of its limits forbids.
TimeUs bridging_us(const Phase& phase, TimeUs t_us) {
    if (phase.limit_us < t_us) return CountResponse::everywhere_us;
    return phase.base_us == never_us ? 0 : t_us - phase.base_us;
}

/// What a value has to be added to, to get how far beyond `from_us` the phase is shown.
TimeUs offset_us(const Phase& phase, TimeUs from_us) {
    return phase.base_us == never_us ? never_us : phase.base_us - from_us;
}

class Reducer {
public:
    Reducer(const Phases& phases, const Truth& truth, Responses& out)
        : sides_{SidePhases(phases[0]), SidePhases(phases[1])}, truth_(truth), out_(out) {}

    void run() {
        for (const Request& request : truth_.requests)
            out_.flashes += request.flashes;
        for_each_event(
            truth_,
            [this](const AskedSide& asked) {
                SidePhases& side = sides_[static_cast<std::size_t>(asked.side)];
                false_shows(asked.side, asked.start_us);
                judges_[static_cast<std::size_t>(asked.side)].next(asked);
                dropouts(side, asked);
                if (asked.lit) acquire(side, asked);
                if (asked.released) release(side, asked);
            },
            [this](const Change& change) { overlap(change); });
        for (const Side side : {Side::left, Side::right})
            false_shows(side, never_us);
        ++out_.bikes;
        add_bike();
    }

private:
    void dropouts(SidePhases& side, const AskedSide& asked) {
        for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(0, side.at(asked.watched_from_us));
             i < side.size() && side[i].rise_us < asked.end_us; ++i) {
            const Phase& phase = side[i];
            if (phase.limit_us < asked.watched_from_us) continue;
            // lost within [watched_from, asked_until)?
            const TimeUs asked_until_us = std::min(side.rise_us(i + 1), asked.end_us);
            add_dropout({phase.base_us == never_us ? 0 : asked.watched_from_us - phase.base_us,
                         bridging_us(phase, asked_until_us)});
        }
    }

    void acquire(SidePhases& side, const AskedSide& asked) {
        const std::ptrdiff_t i = side.at(asked.first_light_us);
        const TimeUs next_us = std::min(side.rise_us(i + 1), asked.shown_by_us);
        const TimeUs wait_us = next_us - asked.first_light_us;
        // still shown from before if the value reaches beyond the first light
        const TimeUs held_from_us =
            i < 0 ? CountResponse::everywhere_us : bridging_us(side[i], asked.first_light_us + 1);
        if (held_from_us <= 0)
            out_.acquire.add_constant(0);
        else if (held_from_us > longest_value_us)
            out_.acquire.add_constant(wait_us);
        else
            out_.acquire.add_stretches({{0, {longest_value_us, wait_us}}, {held_from_us, {0, 0}}});
        if (next_us == asked.shown_by_us) out_.missed.add({0, held_from_us});
    }

    void release(SidePhases& side, const AskedSide& asked) {
        std::ptrdiff_t i = side.at(asked.end_us);
        if (i < 0) return out_.release.add_constant(0);
        stretches_.clear();
        TimeUs from_us = 0;
        while (true) { // each further flash that the value bridges to puts the release off
            const Phase& phase = side[i];
            const TimeUs ceiling_us = std::min(phase.limit_us, asked.gone_by_us) - asked.end_us;
            stretches_.push_back({from_us, {offset_us(phase, asked.end_us), ceiling_us}});
            if (side.rise_us(++i) >= asked.gone_by_us) break;
            from_us = std::max(from_us, bridging_us(phase, side.rise_us(i)));
            if (from_us > longest_value_us) break;
        }
        out_.release.add_stretches(stretches_);
    }

    void overlap(const Change& change) {
        ramps_.clear();
        TimeUs joined_base_us = 0; // of the last ramp, if the next may carry it on
        TimeUs joined_at_us = -1;
        SidePhases& left = sides_[0];
        SidePhases& right = sides_[1];
        std::ptrdiff_t l = std::max<std::ptrdiff_t>(0, left.at(change.from_us));
        std::ptrdiff_t r = std::max<std::ptrdiff_t>(0, right.at(change.from_us));
        while (l < left.size() && r < right.size()) {
            const TimeUs from_us = std::max({left[l].rise_us, right[r].rise_us, change.from_us});
            const TimeUs next_us = std::min(left.rise_us(l + 1), right.rise_us(r + 1));
            const TimeUs to_us = std::min(next_us, change.to_us);
            if (from_us >= change.to_us) break;
            const TimeUs base_us = std::min(left[l].base_us, right[r].base_us);
            const TimeUs until_us = std::min({left[l].limit_us, right[r].limit_us, to_us});
            if (from_us < until_us) {
                const TimeUs reach_us = std::min(offset_us(left[l], from_us), offset_us(right[r], from_us));
                if (joined_at_us == from_us && joined_base_us == base_us)
                    ramps_.back().ceiling_us += until_us - from_us;
                else
                    ramps_.push_back({reach_us, until_us - from_us});
                joined_base_us = base_us;
                joined_at_us = until_us == to_us ? to_us : -1;
            }
            if (next_us >= change.to_us) break;
            if (left.rise_us(l + 1) == next_us) ++l;
            if (right.rise_us(r + 1) == next_us) ++r;
        }
        out_.overlap.add_sum(ramps_);
    }

    void false_shows(Side name, TimeUs before_us) {
        const SidePhases& side = sides_[static_cast<std::size_t>(name)];
        std::ptrdiff_t& i = judged_[static_cast<std::size_t>(name)];
        for (; side.rise_us(i) < before_us; ++i) {
            if (!judges_[static_cast<std::size_t>(name)].is_false(side[i].rise_us)) continue;
            out_.false_shows.add(
                {0, i == 0 ? CountResponse::everywhere_us : bridging_us(side[i - 1], side[i].rise_us)});
        }
    }

    void add_dropout(ValueSpan span) {
        if (span.from_us >= span.to_us || span.to_us <= 0) return;
        out_.dropouts.add(span);
        if (span.from_us <= 0)
            dropped_up_to_us_ = std::max(dropped_up_to_us_, span.to_us);
        else
            dropped_.push_back(span);
    }

    /// The values at which this bike has any dropout: the union of its spans.
    void add_bike() {
        std::sort(dropped_.begin(), dropped_.end(),
                  [](const ValueSpan& a, const ValueSpan& b) { return a.from_us < b.from_us; });
        ValueSpan joined{0, dropped_up_to_us_};
        for (const ValueSpan& span : dropped_) {
            if (span.from_us > joined.to_us) {
                out_.bikes_with_dropout.add(joined);
                joined = span;
            }
            joined.to_us = std::max(joined.to_us, span.to_us);
        }
        out_.bikes_with_dropout.add(joined);
    }

    SidePhases sides_[2];
    FalseShowJudge judges_[2];
    std::ptrdiff_t judged_[2]{};
    const Truth& truth_;
    Responses& out_;
    TimeUs dropped_up_to_us_{0};     ///< at every value below
    std::vector<ValueSpan> dropped_; ///< and in these spans that don't begin at 0
    std::vector<Stretch> stretches_;
    std::vector<Ramp> ramps_;
};

} // namespace

void reduce(const Phases& phases, const Truth& truth, Responses& responses) {
    Reducer(phases, truth, responses).run();
}

void Responses::append(const Responses& other) {
    flashes += other.flashes;
    bikes += other.bikes;
    dropouts.append(other.dropouts);
    bikes_with_dropout.append(other.bikes_with_dropout);
    false_shows.append(other.false_shows);
    missed.append(other.missed);
    overlap.append(other.overlap);
    release.append(other.release);
    acquire.append(other.acquire);
}

void Responses::sort() {
    for (CountResponse* counts : {&dropouts, &bikes_with_dropout, &false_shows, &missed})
        counts->sort();
}

Figures Responses::at(TimeUs value_us) const {
    Figures figures{.flashes = flashes,
                    .dropouts = dropouts.count(value_us),
                    .false_shows = false_shows.count(value_us),
                    .missed = missed.count(value_us),
                    .overlap_us = {},
                    .release_us = {},
                    .acquire_us = {}};
    std::vector<std::int32_t> values_us;
    const auto all = [&](const FigureResponse& response, std::vector<TimeUs>& into) {
        response.evaluate(value_us, values_us);
        into.assign(values_us.begin(), values_us.end());
    };
    all(overlap, figures.overlap_us);
    all(release, figures.release_us);
    all(acquire, figures.acquire_us);
    return figures;
}

} // namespace winkhold::measure
