/// A trace: what the taps did over time, as a list of changes.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/host/time.hpp"

#include <vector>

namespace winkhold::host {

/// The levels of all taps from `t_us` on.
struct Edge {
    TimeUs t_us{0};
    core::Lines lines{};

    friend bool operator==(const Edge&, const Edge&) = default;
};

/// Edges in order of time; before the first one every tap is low. `end_us` is the last moment known.
struct Trace {
    std::vector<Edge> edges;
    TimeUs end_us{0};
};

/// A source of edges in order of time, for recordings too long to hold in memory.
class EdgeSource {
public:
    virtual ~EdgeSource() = default;
    /// Writes the next edge and returns true, or returns false at the end. Throws InputError on bad input.
    virtual bool next(Edge& edge) = 0;
    /// After next() returned false: the last moment known (the last row's time). Unit: us.
    virtual TimeUs end_us() const = 0;
};

/// Reads a source to its end.
Trace read_all(EdgeSource& source);

} // namespace winkhold::host
