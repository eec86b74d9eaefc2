#include "winkhold/host/capture/recording.hpp"

#include "capture/taps.hpp"
#include "text_out.hpp"

#include <algorithm>
#include <iterator>

namespace winkhold::host {
namespace {

using capture::NamedTap;
using core::Lines;

// Both sides, and of the other taps those that are ever high.
std::vector<NamedTap> taps_to_write(const Trace& trace) {
    unsigned high = Lines::left | Lines::right;
    for (const Edge& edge : trace.edges)
        high |= edge.lines.bits();
    std::vector<NamedTap> taps;
    std::copy_if(capture::named_taps.begin(), capture::named_taps.end(), std::back_inserter(taps),
                 [high](const NamedTap& named) { return (high & named.tap) != 0; });
    return taps;
}

bool starts_at_0(const Trace& trace) {
    return !trace.edges.empty() && trace.edges.front().t_us == 0;
}

TimeUs last_edge_us(const Trace& trace) {
    return trace.edges.empty() ? 0 : trace.edges.back().t_us;
}

char digit(Lines lines, const NamedTap& named) {
    return lines.has(named.tap) ? '1' : '0';
}

// The first letter of a tap is its code in a VCD file.
char code(const NamedTap& named) {
    return named.name.front();
}

} // namespace

void write_csv(std::ostream& out, const Trace& trace) {
    const std::vector<NamedTap> taps = taps_to_write(trace);
    TextOut text(out);
    const auto add_row = [&](const Edge& edge) {
        text.add("{}", edge.t_us);
        for (const NamedTap& named : taps)
            text.add(",{}", digit(edge.lines, named));
        text.add("\n");
    };
    text.add("time_us");
    for (const NamedTap& named : taps)
        text.add(",{}", named.name);
    text.add("\n");
    if (!starts_at_0(trace)) add_row({});
    for (const Edge& edge : trace.edges)
        add_row(edge);
    const Lines last = trace.edges.empty() ? Lines{} : trace.edges.back().lines;
    if (trace.end_us > last_edge_us(trace)) add_row({trace.end_us, last});
    text.flush();
}

void write_vcd(std::ostream& out, const Trace& trace) {
    const std::vector<NamedTap> taps = taps_to_write(trace);
    TextOut text(out);
    text.add("$timescale 1 us $end\n$scope module winkhold $end\n");
    for (const NamedTap& named : taps)
        text.add("$var wire 1 {} {} $end\n", code(named), named.name);
    text.add("$upscope $end\n$enddefinitions $end\n");

    TimeUs now_us = 0;
    Lines now = starts_at_0(trace) ? trace.edges.front().lines : Lines{};
    text.add("#0\n$dumpvars\n");
    for (const NamedTap& named : taps)
        text.add("{}{}\n", digit(now, named), code(named));
    text.add("$end\n");
    for (const Edge& edge : trace.edges) {
        if (edge.lines == now) continue;
        text.add("#{}\n", edge.t_us);
        for (const NamedTap& named : taps) {
            if (edge.lines.has(named.tap) != now.has(named.tap))
                text.add("{}{}\n", digit(edge.lines, named), code(named));
        }
        now_us = edge.t_us;
        now = edge.lines;
    }
    const TimeUs end_us = std::max(trace.end_us, last_edge_us(trace));
    if (end_us > now_us) text.add("#{}\n", end_us);
    text.flush();
}

} // namespace winkhold::host
