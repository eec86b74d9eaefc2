/// What the rider asked for, kept beside every synthetic trace.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/taps/trace/phases.hpp"

#include <iosfwd>
#include <vector>

namespace winkhold::measure {

/// One request of the rider, from switch to switch, and what the flasher made of it.
/// All moments are undelayed: before bounce, front end and settle.
struct Request {
    core::Indication show{core::Indication::off}; ///< never off: silence is what lies between requests
    TimeUs start_us{0};
    TimeUs end_us{0};                    ///< cancelled, or changed to something else
    TimeUs first_light_us{0};            ///< its first lamp lights; end_us if none ever did
    TimeUs last_light_on_us{0};          ///< its last bright phase begins
    TimeUs last_light_off_us{0};         ///< and ends, perhaps after end_us (whole-cycle flashers)
    TimeUs third_light_off_us{never_us}; ///< third bright phase ends; never_us: fewer, or inferred
    int flashes{0};       ///< bright phases begun while asked for, each side of a hazard counted
    bool lamp_out{false}; ///< it ended at the lamp-out rate
};

/// All requests of one trace.
struct Truth {
    std::vector<Request> requests; ///< in order of time, not overlapping
    TimeUs end_us{0};
};

/// Writes `time_us,indication`.
void write_truth_csv(std::ostream& out, const Truth& truth);

/// A recording has no rider script. This guesses one from settled flashes: flashes of one side with no dark
/// gap of 1 s or longer between are one request, which ends with the last light. Release then counts from
/// there.
Truth infer_truth(const Phases& phases, TimeUs end_us);

} // namespace winkhold::measure
