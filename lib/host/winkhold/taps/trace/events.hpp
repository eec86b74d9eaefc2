/// A replay or live feed with several listeners.
#pragma once

#include "winkhold/taps/trace/replay.hpp"

#include <functional>
#include <memory>

namespace winkhold::taps {

/// A fault has come up on a line. One event each time it comes; its going is not told.
struct FaultEvent {
    TimeUs t_us{0};
    core::Fault fault{};
    core::Side line{};
};

/// Decodes a stream of edges and tells listeners. Any number may listen to each event; they are called in the
/// order in which they came, on the feeding thread. A listener that throws ends the feed.
class DecodedFeed {
public:
    /// `settings` must pass check(). Nobody listens yet.
    explicit DecodedFeed(const core::Settings& settings);
    ~DecodedFeed();
    DecodedFeed(DecodedFeed&&) noexcept;
    DecodedFeed& operator=(DecodedFeed&&) noexcept;

    /// Every edge that is fed, before it is decoded.
    void on_edge(std::function<void(const Edge&)> listener);
    /// Every change of the indication; the first one comes with the first edge.
    void on_indication(std::function<void(TimeUs, core::Indication)> listener);
    /// Each time a fault comes up on a line; its going is not told.
    void on_fault(std::function<void(const FaultEvent&)> listener);

    /// Edges in order of time.
    void feed(const Edge& edge);
    /// Nothing changes up to and including `end_us`.
    void finish(TimeUs end_us);

private:
    struct Signals;
    std::unique_ptr<Signals> signals_;
};

} // namespace winkhold::taps
