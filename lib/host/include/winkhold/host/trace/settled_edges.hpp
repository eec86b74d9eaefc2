/// A trace's settled edges: the lines without bounce, short pulses and PWM gaps.
#pragma once

#include "winkhold/core/settle.hpp"
#include "winkhold/host/trace/trace.hpp"

namespace winkhold::host {

struct SettledEdgeAt {
    TimeUs t_us; ///< when it settles
    core::Side side;
    bool rise;
    TimeUs last_high_us; ///< of a fall: the last moment the line read high
};

/// Calls found(SettledEdgeAt) for both turn lines, in order of time, up to and including the trace's end.
/// The same edges that a decoder settles, at less cost: the lines don't wait for each other here.
template <class Found>
void for_each_settled_edge(const Trace& trace, const core::Settings& settings, Found&& found) {
    struct Line {
        core::Settle settle;
        TimeUs due_us{never_us};
    };
    Line lines[2];
    const auto tell = [&](core::Side side, TimeUs t_us, core::SettledEdge settled) {
        Line& line = lines[static_cast<std::size_t>(side)];
        const core::Alarm alarm = line.settle.alarm(settings);
        line.due_us = alarm.armed ? t_us + core::elapsed_us(alarm.at, to_core(t_us)) : never_us;
        if (settled == core::SettledEdge::none) return;
        const TimeUs last_high_us = t_us - core::elapsed_us(to_core(t_us), line.settle.last_high());
        found(SettledEdgeAt{t_us, side, settled == core::SettledEdge::rise, last_high_us});
    };
    const auto run_to = [&](TimeUs to_us) {
        while (lines[0].due_us <= to_us || lines[1].due_us <= to_us) {
            const auto side = lines[1].due_us < lines[0].due_us ? core::Side::right : core::Side::left;
            Line& line = lines[static_cast<std::size_t>(side)];
            const TimeUs t_us = line.due_us;
            tell(side, t_us, line.settle.expire(to_core(t_us), settings));
        }
    };
    std::uint8_t before = 0;
    for (const Edge& edge : trace.edges) {
        run_to(edge.t_us);
        const std::uint8_t changed = before ^ edge.lines.bits();
        before = edge.lines.bits();
        for (const core::Side side : {core::Side::left, core::Side::right})
            if ((changed & (side == core::Side::left ? core::Lines::left : core::Lines::right)) != 0)
                tell(side, edge.t_us,
                     lines[static_cast<std::size_t>(side)].settle.apply(to_core(edge.t_us),
                                                                        edge.lines.has(side), settings));
    }
    run_to(trace.end_us);
}

} // namespace winkhold::host
