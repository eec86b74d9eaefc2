#include "winkhold/taps/capture/recording.hpp"

#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/vcd_writer.hpp"
#include "winkhold/taps/capture/detail/taps.hpp"

#include <algorithm>
#include <iterator>

namespace winkhold::taps {
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

unsigned level(Lines lines, const NamedTap& named) {
    return lines.has(named.tap) ? 1 : 0;
}

} // namespace

void write_csv(std::ostream& out, const Trace& trace) {
    const std::vector<NamedTap> taps = taps_to_write(trace);
    CsvWriter csv(out);
    const auto add_row = [&](const Edge& edge) {
        csv.field(edge.t_us);
        for (const NamedTap& named : taps)
            csv.field(level(edge.lines, named));
        csv.end_record();
    };
    csv.field("time_us");
    for (const NamedTap& named : taps)
        csv.field(named.name);
    csv.end_record();
    if (!starts_at_0(trace)) add_row({});
    for (const Edge& edge : trace.edges)
        add_row(edge);
    const Lines last = trace.edges.empty() ? Lines{} : trace.edges.back().lines;
    if (trace.end_us > last_edge_us(trace)) add_row({trace.end_us, last});
    csv.flush();
}

void write_vcd(std::ostream& out, const Trace& trace) {
    const std::vector<NamedTap> taps = taps_to_write(trace);
    VcdWriter vcd(out);
    std::vector<unsigned> at_first;
    for (const NamedTap& named : taps) {
        vcd.add_signal(named.name, 1, std::string(named.name.substr(0, 1)));
        at_first.push_back(starts_at_0(trace) ? level(trace.edges.front().lines, named) : 0);
    }
    vcd.end_head();
    vcd.first_values(0, at_first);
    for (const Edge& edge : trace.edges) {
        vcd.begin_step();
        for (VcdWriter::Signal signal = 0; signal < taps.size(); ++signal)
            vcd.set(edge.t_us, signal, level(edge.lines, taps[signal]));
    }
    vcd.finish(std::max(trace.end_us, last_edge_us(trace)));
}

} // namespace winkhold::taps
