/// Hand-made lines and what an inspection says about them.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

#include <functional>

namespace winkhold::test {

using host::Inspection;
using host::LineKind;
using host::LineView;
using host::Polarity;
using host::TimeUs;

/// One line's changes: each at its time, to this level.
struct Change {
    TimeUs t_us;
    bool high;
};
using Changes = std::vector<Change>;

/// Both lines low at 0, then the changes of each.
inline Inspection inspected(const Changes& left, const Changes& right, TimeUs end_us) {
    host::Inspector inspector;
    core::Lines lines;
    inspector.feed({0, lines});
    std::size_t l = 0, r = 0;
    while (l < left.size() || r < right.size()) {
        const bool from_left = r == right.size() || (l < left.size() && left[l].t_us <= right[r].t_us);
        const Change& next = from_left ? left[l++] : right[r++];
        lines = lines.with(from_left ? core::Lines::left : core::Lines::right, next.high);
        inspector.feed({next.t_us, lines});
    }
    return inspector.finish(end_us);
}

/// Lit and dark in turn from `start_us`, the pattern so many times.
inline Changes flashing(TimeUs start_us, const std::vector<std::pair<TimeUs, TimeUs>>& pattern, int times) {
    Changes changes;
    for (int i = 0; i < times; ++i)
        for (const auto& [on_us, dark_us] : pattern) {
            changes.push_back({start_us, true});
            changes.push_back({start_us + on_us, false});
            start_us += on_us + dark_us;
        }
    return changes;
}

/// Each high of `changes` chopped: high for `high_us` of each `cycle_us`.
inline Changes chopped(const Changes& changes, TimeUs cycle_us, TimeUs high_us) {
    Changes out;
    for (std::size_t i = 0; i + 1 < changes.size(); i += 2)
        for (TimeUs t_us = changes[i].t_us; t_us < changes[i + 1].t_us; t_us += cycle_us) {
            out.push_back({t_us, true});
            out.push_back({std::min(t_us + high_us, changes[i + 1].t_us), false});
        }
    return out;
}

inline Changes inverted(Changes changes) {
    for (Change& change : changes)
        change.high = !change.high;
    changes.insert(changes.begin(), {0, true});
    return changes;
}

inline const LineView& left_of(const Inspection& seen) {
    return seen.lines[0];
}

} // namespace winkhold::test
