/// A trace: what the taps did over time, as a list of changes.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/core/lines.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace winkhold::taps {

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

/// Something that a recording can't tell, or that its form hides. The answer rests on it all the same.
struct Caveat {
    std::string_view name;     ///< for programs, such as "edges-lost"
    std::int64_t count{0};     ///< how often
    TimeUs first_us{0};        ///< when first
    std::string text;          ///< for people: what it means, what to do
    bool is_incomplete{false}; ///< something happened that the recording has lost: a finding
};

/// A source of edges in order of time, for recordings too long to hold in memory.
class EdgeSource {
public:
    virtual ~EdgeSource() = default;
    /// Writes the next edge and returns true, or returns false at the end. Throws InputError on bad input.
    virtual bool next(Edge& edge) = 0;
    /// After next() returned false: the last moment known (the last row's time). Unit: us.
    virtual TimeUs end_us() const = 0;
    /// After next() returned false: what to know about the recording, one of each kind.
    virtual std::vector<Caveat> caveats() const { return {}; }
};

/// A trace as a source.
class TraceSource : public EdgeSource {
public:
    /// Hands out the trace's edges, in order.
    explicit TraceSource(Trace trace) : trace_(std::move(trace)) {}

    bool next(Edge& edge) override {
        if (next_ == trace_.edges.size()) return false;
        edge = trace_.edges[next_++];
        return true;
    }
    TimeUs end_us() const override { return trace_.end_us; }

private:
    Trace trace_;
    std::size_t next_{0};
};

/// Where memory grows with the flashes of a recording, so many of one line are taken: 18 hours of flashing
/// without a pause.
inline constexpr std::size_t most_flashes = 100'000;

/// Throws InputError if there are more.
void check_flashes(std::size_t flashes);

/// Reads a source to its end. Throws InputError from the source, and beyond 2,000,000 edges.
Trace read_all(EdgeSource& source);

} // namespace winkhold::taps
