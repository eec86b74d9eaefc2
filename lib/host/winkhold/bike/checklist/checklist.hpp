/// What goes with the bike when the work is done: a checklist with what was measured, settings, versions, how
/// to take it all off again.
#pragma once

#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/checklist/measured.hpp"
#include "winkhold/bike/checklist/readiness.hpp"
#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/core/settings.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::bike {

/// In this order: nothing is taken to the road that wasn't right on the bench.
enum class Stage { bench, wet, power, functions, road, own };
inline constexpr std::array all_stages{Stage::bench,     Stage::wet,  Stage::power,
                                       Stage::functions, Stage::road, Stage::own};

/// Its heading on paper, and its word in JSON.
constexpr std::string_view name(Stage stage) {
    constexpr std::string_view names[] = {"bench", "wet", "power", "functions", "road", "own"};
    return names[static_cast<std::size_t>(stage)];
}

/// One thing to do or to measure, and what it is held to.
struct CheckPoint {
    std::string id; ///< unique; [[measured]] names it
    Stage stage{Stage::bench};
    std::string task;
    std::string unit; ///< empty: a matter of yes or no
    std::optional<double> least;
    std::optional<double> most;
    /// Of the limit, with its mark: read, quoted, derived; or common practice. With a unit and no limit: what
    /// the file must say for there to be one.
    std::string source;
    bool needs_note{
        false}; ///< what came of it has to be said: which water, what the bike does without a part

    /// Done or not done; there is nothing to measure.
    bool is_yes_or_no() const { return unit.empty() && !least && !most; }
};

/// How a point stands.
enum class Standing {
    open,       ///< nobody has measured it, or nobody says with what and when; never taken for passed
    passed,     ///< within its limits, which count as within, or done
    failed,     ///< beyond one, or done = false
    not_judged, ///< measured, but the limit is not known
};

/// Its word on paper and in JSON.
constexpr std::string_view name(Standing standing) {
    constexpr std::string_view names[] = {"open", "passed", "failed", "not-judged"};
    return names[static_cast<std::size_t>(standing)];
}

/// A point, with what somebody has measured for it.
struct PointRecord {
    CheckPoint point;
    std::optional<Measurement> measured;
    Standing standing{Standing::open};
    std::string why; ///< open or not judged: what is missing, as a clause
};

/// The paper that stays with the bike, as data.
struct Checklist {
    std::string vehicle;
    std::string program; ///< name and version of what wrote this
    std::vector<Vehicle::File> files;
    StillExample still_example;
    std::vector<PointRecord> points;
    core::Settings decoder;
    Lamps lamps;
    std::vector<std::string> restore; ///< steps back to the factory's state, in order
    std::vector<std::string> cautions;

    Readiness readiness;

    /// How many points stand so.
    std::size_t count(Standing standing) const;
};

/// Judges points, electrics, limits, lamps and wiring of the vehicle, and says in one verdict what they come
/// to. Throws InputError: as the readers of the sections; a number for a point of yes or no and the other way
/// round; a place or kind of vehicle without limits.
Checklist checklist_of(const Vehicle& vehicle, const std::string& program);

} // namespace winkhold::bike
