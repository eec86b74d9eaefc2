/// What was done to a ride on purpose, and when: evidence for what goes wrong soon after.
#pragma once

#include "winkhold/measure/soak/cause.hpp"

#include <algorithm>
#include <optional>
#include <vector>

namespace winkhold::measure {

class Evidence {
public:
    /// `undisturbed`: the ride with faultless taps; null if its taps were.
    Evidence(const Ride& ride, const Trace* undisturbed) {
        plant(ride.planted);
        if (undisturbed != nullptr) differ(ride.trace, *undisturbed);
    }

    /// What was done within the 2 s before `t_us`; of several the one that stands first in Cause.
    std::optional<Cause> before(TimeUs t_us) const {
        std::optional<Cause> first;
        for (const Span& span : spans_)
            if (span.from_us <= t_us && t_us - felt_for_us <= span.to_us && (!first || span.cause < *first))
                first = span.cause;
        return first;
    }

    /// Anything was done in between.
    bool within(TimeUs from_us, TimeUs to_us) const {
        return std::any_of(spans_.begin(), spans_.end(),
                           [=](const Span& span) { return span.from_us < to_us && from_us < span.to_us; });
    }

private:
    static constexpr TimeUs felt_for_us = 2'000'000;

    struct Span {
        Cause cause;
        TimeUs from_us;
        TimeUs to_us;
    };

    void plant(const std::vector<Planted>& planted) {
        using enum Planted::What;
        for (std::size_t i = 0; i < planted.size(); ++i) {
            const Planted& one = planted[i];
            const bool rhythm = one.what == second_rhythm || one.what == group;
            if (!rhythm) {
                spans_.push_back({one.what == missing_flash ? Cause::flash_missing
                                  : one.what == fumble      ? Cause::fumbled
                                                            : Cause::touched,
                                  one.from_us, one.to_us});
                continue;
            }
            // a rhythm that goes on is no change: that is its first flash, and the usual one after its last
            const auto joins = [&](std::size_t k) {
                return one.what == second_rhythm && planted[k].what == one.what &&
                       (k < i ? planted[k].to_us == one.from_us : one.to_us == planted[k].from_us);
            };
            if (i == 0 || !joins(i - 1)) spans_.push_back({Cause::rhythm_changed, one.from_us, one.to_us});
            if (i + 1 == planted.size() || !joins(i + 1))
                spans_.push_back({Cause::rhythm_changed, one.to_us, one.to_us});
        }
    }

    void differ(const Trace& as_it_was, const Trace& undisturbed) {
        auto other = undisturbed.edges.begin();
        core::Lines instead;
        const auto note = [&](TimeUs from_us, TimeUs to_us, core::Lines lines) {
            if (lines != instead && from_us < to_us)
                spans_.push_back({Cause::line_disturbed, from_us, to_us});
        };
        for (std::size_t i = 0; i < as_it_was.edges.size(); ++i) {
            const Edge& edge = as_it_was.edges[i];
            const TimeUs next_us =
                i + 1 < as_it_was.edges.size() ? as_it_was.edges[i + 1].t_us : as_it_was.end_us;
            TimeUs from_us = edge.t_us;
            for (; other != undisturbed.edges.end() && other->t_us < next_us; ++other) {
                note(from_us, other->t_us, edge.lines);
                instead = other->lines;
                from_us = std::max(from_us, other->t_us);
            }
            note(from_us, next_us, edge.lines);
        }
    }

    std::vector<Span> spans_;
};

} // namespace winkhold::measure
