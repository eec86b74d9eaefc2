/// From files to a judgement.
#pragma once

#include "winkhold/bike/limits/judge.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

namespace winkhold::bike {

/// What the limits need to know beside what is observed.
struct LimitsQuestion {
    std::string place;            ///< empty: what the vehicle file says, else UN regulations are assumed
    std::string kind;             ///< empty: what the vehicle file says, else a motorcycle is assumed
    std::set<std::string> stated; ///< conditions that hold
    std::optional<Vehicle>
        vehicle; ///< place, kind, lamps and their timing, decoder; none: no lamps are known
};

/// Judges a recording; the vehicle's decoder plays its lamps. `switched`: what the switch asked for and when,
/// if that is known. Throws InputError:
/// from source and files; place, kind or condition that the book does not know, with the list of what it
/// knows.
Judgement judge_recording(const LimitBook& book, const LimitsQuestion& question, EdgeSource& source,
                          const std::optional<Timeline>& switched);

/// Judges so many simulated rides of a vehicle, the brake pressed and released all along; the worst counts.
/// What rests on values that `ride` doesn't give, or has from the example, is not judged. `rider`: rides it
/// in place of its own. Throws InputError as above, and as scenario_of().
Judgement judge_scenario(const LimitBook& book, const LimitsQuestion& question, const Vehicle& ride,
                         std::uint64_t seed, std::int64_t trials,
                         const std::optional<RiderModel>& rider = {});

} // namespace winkhold::bike
