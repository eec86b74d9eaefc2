/// Where a ride's lines read otherwise than they would have without breaks and stray pulses.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include <algorithm>
#include <vector>

namespace winkhold::measure {

/// When disturbances changed what the lines read.
class Disturbed {
public:
    void differ(const Trace& as_it_was, const Trace& undisturbed) {
        auto other = undisturbed.edges.begin();
        core::Lines instead;
        const auto note = [&](TimeUs from_us, TimeUs to_us, core::Lines lines) {
            if (lines != instead && from_us < to_us) spans_.push_back({from_us, to_us});
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
    /// Within the last 2 s.
    bool before(TimeUs t_us) const {
        return std::any_of(spans_.begin(), spans_.end(), [t_us](const Span& span) {
            return span.from_us <= t_us && t_us - felt_for_us <= span.to_us;
        });
    }

private:
    static constexpr TimeUs felt_for_us = 2'000'000;

    struct Span {
        TimeUs from_us;
        TimeUs to_us;
    };
    std::vector<Span> spans_;
};

} // namespace winkhold::measure
