/// From files to a judgement.
#pragma once

#include "winkhold/bike/limits/judge.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

namespace winkhold::bike {

/// What the limits need to know beside what is observed.
struct LimitsQuestion {
    std::string place; ///< empty: what the vehicle file says, else UN regulations, and a note says so
    std::string kind;  ///< empty: what the vehicle file says, else a motorcycle, and a note says so
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

/// Judges so many rides of a scenario, the brake pressed and released all along; the worst counts. Throws
/// InputError as above.
Judgement judge_scenario(const LimitBook& book, const LimitsQuestion& question, const Scenario& scenario,
                         std::uint64_t seed, std::int64_t trials);

} // namespace winkhold::bike
