/// The points of a bring-up checklist, worked out from what the vehicle file says.
#pragma once

#include "winkhold/bike/checklist/checklist.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"
#include "winkhold/bike/electrics/electrics.hpp"
#include "winkhold/bike/lamps/lamp_plan.hpp"
#include "winkhold/bike/limits/limit_book.hpp"
#include "winkhold/bike/wiring/check.hpp"
#include "winkhold/measure/front_end/front_end.hpp"

namespace winkhold::bike {

/// What points are worked out from. What is the example's is not known.
struct BikeFacts {
    Wiring wiring;
    std::vector<WireFinding> warnings{}; ///< of the wiring: somebody may mean each of them
    LampPlan plan;
    Loads loads;
    core::Settings decoder;
    std::vector<GroupLoad> groups; ///< what the lamps draw
    std::optional<Board> board{};
    std::optional<FrontEnd> front_end{};
    std::optional<FrontEndFigures> front_end_figures{};
    std::optional<Profile> limits{};    ///< of the vehicle's place and kind
    std::optional<double> stop_lamp_ms; ///< from the brake to its lamps, at most, wherever one rides
    double rate_per_min{0};             ///< of the flasher
    double duty_percent{0};
    std::string why_no_rate;   ///< what keeps these two from being known, as a clause
    std::string why_no_play{}; ///< and what keeps lamps from being played; empty: nothing
};

/// Of this vehicle; `profile` is of its place and kind. Throws InputError as the readers of the sections.
BikeFacts bike_facts_of(const Vehicle& vehicle, const Wiring& wiring, const Electrics& electrics,
                        const std::optional<Profile>& profile);

/// Collects points. Of those that are measured, a limit that is not known says so in place of its source.
class Points {
public:
    void yes_or_no(Stage stage, const std::string& id, const std::string& task) {
        add({id, stage, task, "", {}, {}, ""});
    }
    /// The same; what came of it belongs into the note.
    void noted(Stage stage, const std::string& id, const std::string& task) {
        add({id, stage, task, "", {}, {}, "", true});
    }
    void within(Stage stage, const std::string& id, const std::string& task, const char* unit, double least,
                double most, const std::string& source) {
        add({id, stage, task, unit, least, most, source});
    }
    /// Both ends, or none: half a limit would pass a meter that isn't connected.
    void within(Stage stage, const std::string& id, const std::string& task, const char* unit,
                std::optional<double> least, std::optional<double> most, const std::string& source,
                const std::string& missing) {
        if (least && most)
            within(stage, id, task, unit, *least, *most, source);
        else
            add({id, stage, task, unit, {}, {}, missing});
    }
    std::vector<CheckPoint> take() { return std::move(points_); }

private:
    void add(CheckPoint point); ///< gives an id that is taken a number

    std::vector<CheckPoint> points_;
};

inline constexpr const char* common_practice = "common practice, no source";
inline constexpr const char* front_end_missing = "[front_end], or one with which a dark line reads dark";

/// Three figures, to the strict or the generous side, so that what is printed is what is judged.
std::optional<double> rounded(std::optional<double> limit, double (*to_side)(double));

/// Taps that wires come from, in the order in which the program names lines.
std::vector<std::string_view> taps_of(const Wiring& wiring);
bool has_tap(const Wiring& wiring, std::string_view line);
bool has_job(const Lamps& lamps, core::Job job);
/// Small letters, figures and dashes.
std::string id_of(std::string_view name);

void add_contradictions(const BikeFacts& bike, Points& points); // contradiction_points.cpp
void add_bench(const BikeFacts& bike, Points& points);          // bench_points.cpp
void add_procedure(const BikeFacts& bike, Points& points);      // procedure_points.cpp
void add_wet(const BikeFacts& bike, Points& points);            // wet_points.cpp
void add_power(const BikeFacts& bike, Points& points);          // power_points.cpp
void add_functions(const BikeFacts& bike, Points& points);      // function_points.cpp
void add_unseen(const BikeFacts& bike, Points& points);         // unseen_points.cpp
void add_road(Points& points);                                  // unseen_points.cpp

/// All of them, in the order in which they are worked through.
std::vector<CheckPoint> check_points(const BikeFacts& bike);

/// Steps back to the factory's state. restore.cpp
std::vector<std::string> restore_steps(const Wiring& wiring, const Lamps& lamps);

} // namespace winkhold::bike
