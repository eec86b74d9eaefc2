/// The steps that the smoother walks: lights going on and off, on both lines.
#pragma once

#include "winkhold/taps/trace/settled_edges.hpp"

#include <array>
#include <vector>

namespace winkhold::taps {

/// One or both lights change. A rise is dated back to where the level began to stand (settled rise - settle),
/// a fall to the last moment the line read high: with the whole recording at hand nobody has to wait.
struct LightStep {
    TimeUs t_us{0};
    std::uint8_t lit{0};   ///< afterwards; left 1, right 2
    std::uint8_t rises{0}; ///< the sides that go on
    std::uint8_t falls{0}; ///< the sides that go off
    /// How long the phase lasted that ends here, for each side that changes: of a fall the light, of a rise
    /// the gap before it; never_us for a side's first rise. Unit: us.
    std::array<TimeUs, 2> lasted_us{never_us, never_us};
};

/// When enough dark gaps are over, and the light after them has stood for a blink, to tell how long the next
/// one may become: four gaps of usual flashes, or, since the decoder does not believe flashes faster than
/// 133/min alone, 31 of those in a row. never_us if that is never so.
TimeUs gaps_known_from_us(const std::vector<LightStep>& steps);

/// Collects settled edges (16 bytes for each light) and joins the two sides of a hazard.
class LightCollector {
public:
    /// Settles lines by these settings, which must pass check().
    explicit LightCollector(const core::Settings& settings) : settings_(settings), settler_(settings) {}

    /// The next edge, in order of time.
    void feed(const Edge& edge) {
        settler_.feed(edge, [this](const SettledEdgeAt& settled) { keep(settled); });
    }
    /// Nothing changes up to and including `end_us`.
    void finish(TimeUs end_us) {
        settler_.finish(end_us, [this](const SettledEdgeAt& settled) { keep(settled); });
    }

    /// In order of time, at most one for each settled edge. Two lights that overlap and rise within `skew_us`
    /// are a hazard's: both begin with the earlier rise, and end with the later fall if those are no further
    /// apart. A light of over 1 s is no flash; the other side's first light after that ends it.
    std::vector<LightStep> steps(TimeUs skew_us) const;

private:
    struct Light {
        TimeUs on_us;
        TimeUs off_us; ///< never_us: lit at the end
    };
    using Lights = std::array<std::vector<Light>, 2>;

    void keep(const SettledEdgeAt& settled);
    static void let_stuck_go(Lights& lights);
    static Lights joined(Lights lights, TimeUs skew_us);

    core::Settings settings_;
    LineSettler settler_;
    Lights lights_;
};

} // namespace winkhold::taps
