/// What was observed, held against published limits.
#pragma once

#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/bike/limits/limit_book.hpp"
#include "winkhold/bike/limits/observed.hpp"

#include <span>

namespace winkhold::bike {

/// What is not known is never passed.
enum class Ruling { kept, broken, not_judged };

/// One limit, and how what was seen stands against it.
struct Finding {
    Limit limit;
    Ruling ruling{Ruling::not_judged};
    /// The reading nearest to a limit, or furthest beyond. Unit: the limit's.
    std::optional<double> value;
    /// How far within the limit it is; below zero: beyond. Unit: the limit's.
    std::optional<double> margin;
    bool at_least{false};          ///< the value was still growing when it was last seen
    std::string where;             ///< what was measured, such as "left line"; empty without a value
    TimeUs at_us{0};               ///< since when, if the reading has a moment
    std::int64_t trial{0};         ///< in which ride of a simulation
    std::int64_t readings{0};      ///< how many there were
    std::optional<FlashRate> rate; ///< flash rates: both ways of averaging
    std::string why;               ///< not judged: what is missing, and what to do
};

/// Whose values a judgement rests on. As it is: a recording's, on a bike, at a place and of a kind that the
/// owner has named.
struct Basis {
    std::optional<Vehicle> ride; ///< whose [flasher] and [lines] were simulated; none: a recording shows them
    bool runs_free{false};       ///< that flasher's oscillator never stops
    std::optional<Vehicle> bike; ///< whose [[lamps]] these are
    std::string place_not_known; ///< why, as a clause; empty: it is
    std::string kind_not_known;
};

/// All limits that hold there, each with its ruling.
struct Judgement {
    Profile profile;
    std::vector<Finding> findings; ///< one a limit, in the profile's order
    std::vector<std::string> notes;
    bool incomplete{false};           ///< the recording has lost something: every reading may be wrong
    std::vector<std::string> assumed; ///< "place", "kind": nobody who knows the bike says it
    StillExample still_example;
    std::vector<std::string> warnings{}; ///< lamp_warnings(): what rests on those lamps is not judged

    /// How many findings have this ruling.
    std::int64_t count(Ruling ruling) const;
};

/// Holds every limit of the profile against all that was observed; the worst reading counts. `stated`: the
/// conditions that hold, as limits name them in only_if and unless.
Judgement judge(const Profile& profile, const std::set<std::string>& stated,
                std::span<const Observed> observed, const Lamps& lamps, const Basis& basis = {});

} // namespace winkhold::bike
