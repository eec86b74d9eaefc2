#include "winkhold/taps/trace/trace.hpp"

#include "winkhold/base/error.hpp"

#include <fmt/format.h>

namespace winkhold::taps {

void check_flashes(std::size_t flashes) {
    if (flashes > most_flashes)
        throw InputError(fmt::format("more than {} flashes on one line: cut the recording into shorter ones",
                                     most_flashes));
}

Trace read_all(EdgeSource& source) {
    constexpr std::size_t most_edges = 2'000'000;
    Trace trace;
    Edge edge;
    while (source.next(edge)) {
        if (trace.edges.size() == most_edges)
            throw InputError(
                fmt::format("more than {} edges: cut the recording into shorter ones", most_edges));
        trace.edges.push_back(edge);
    }
    trace.end_us = source.end_us();
    return trace;
}

} // namespace winkhold::taps
