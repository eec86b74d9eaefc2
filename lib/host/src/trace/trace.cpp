#include "winkhold/host/trace/trace.hpp"

namespace winkhold::host {

Trace read_all(EdgeSource& source) {
    Trace trace;
    Edge edge;
    while (source.next(edge))
        trace.edges.push_back(edge);
    trace.end_us = source.end_us();
    return trace;
}

} // namespace winkhold::host
