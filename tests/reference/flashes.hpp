/// Second pass of the reference decoder: one line's on phases are joined to flashes, the flashes teach, and
/// each fall gets its verdict (cut short or not) and its hold.
#pragma once

#include "reference/settled.hpp"

namespace winkhold::reference {

/// Is a flash that has just ended so short that it proves a cancel?
enum class CutShort {
    no,
    if_it_stays_dark, ///< proved only when the dark outlasts chatter
    yes,
};

/// One settled on phase of a flash, and what its fall means.
struct Piece {
    OnPhase phase;
    bool teaches{true}; ///< false: the supply took it down, or may have
    CutShort cut{CutShort::no};
    TimeUs hold_us{0}; ///< silence bridged, from the last high on
};

/// A flash: one on phase, or several with nothing but chatter between.
struct Flash {
    std::vector<Piece> pieces;

    TimeUs start_us() const { return pieces.front().phase.rise_us; }
    TimeUs last_high_us() const { return pieces.back().phase.last_high_us; }
    TimeUs fall_us() const { return pieces.back().phase.fall_us; }
    /// On for longer than any flash, seen when its last fall settles.
    bool stuck() const;
};

/// `supply` is the supply tap, as it reads.
std::vector<Flash> flashes(const std::vector<OnPhase>& phases, const std::vector<Stretch>& supply,
                           const core::Settings& settings);

} // namespace winkhold::reference
