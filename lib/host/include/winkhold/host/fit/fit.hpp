/// A recording -> the flasher, contacts and switch of that bike, as a scenario has them.
#pragma once

#include "winkhold/host/fit/contact_fit.hpp"
#include "winkhold/host/fit/rhythm_fit.hpp"
#include "winkhold/host/fit/side_change_fit.hpp"

namespace winkhold::host {

/// A second rhythm in the same recording.
struct OtherRhythm {
    RhythmFit rhythm;
    bool lamp_out{false};    ///< quicker by a third or more and in one stretch: a lamp has failed
    bool interleaved{false}; ///< both take turns: flashes in groups
    int group_size{0};       ///< of so many flashes, the last one with the slow dark phase; 0: unknown
};

struct BikeFit {
    Inspection seen;
    std::int64_t bursts{0};
    RhythmFit rhythm; ///< of a bike with two rhythms the slower one
    std::optional<OtherRhythm> other;
    std::int64_t missing{0}; ///< dark gaps that are two with a flash left out between
    Estimate missing_flash_percent;
    SideChangeFit side_change;
    BounceFit bounce;
    std::optional<SkewFit> rise_skew, fall_skew;
    std::optional<Estimate>
        first_on_extra_us; ///< first lights that are all longer: least and most as interval
};

/// Throws InputError if the recording has too few whole flashes for a rhythm, saying how many it needs;
/// `file` names it.
BikeFit fit_bike(Inspection seen, const std::string& file);

} // namespace winkhold::host
