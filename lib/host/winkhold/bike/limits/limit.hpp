/// A published limit, as data/limits holds it.
#pragma once

#include "winkhold/bike/lamps/lamps.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::bike {

/// How a limit is known. Every output carries it.
enum class Mark {
    read,            ///< seen in the published text
    quoted,          ///< seen in another text that quotes or sums it up
    derived,         ///< worked out
    from_memory,     ///< not seen
    common_practice, ///< no source
};

/// What a limit is held against. apps/winkhold/README.md says how each is measured.
enum class LimitMeasure {
    flash_rate,
    on_share,
    first_light,
    first_dark,
    first_dark_mean,  ///< of three starts in a row
    first_cycle,      ///< lit and dark again: until the second light
    first_cycle_mean, ///< of three starts in a row
    side_phase,
    hazard_phase,
    sequence_latched,
    sequence_outward,
    sequence_uniform,
    sequence_time,
    sequence_gap,
    sequence_aspect,
    stop_lamp_delay,
    stop_to_tail, ///< one lamp's brightness with the brake, by that without
    turn_colour,  ///< groups that are not amber
    across,       ///< and the rest of where turn lamps are, as LampGroup has it
    to_headlamp,
    to_stop_lamp,
    low_edge,
    high_edge,
    ahead_of_rear,
    by_hand, ///< no bench can judge it
};

/// Colour and place of turn lamps: what their tables say, not what they do.
constexpr bool is_of_turn_lamps(LimitMeasure measure) {
    switch (measure) {
    case LimitMeasure::turn_colour:
    case LimitMeasure::across:
    case LimitMeasure::to_headlamp:
    case LimitMeasure::to_stop_lamp:
    case LimitMeasure::low_edge:
    case LimitMeasure::high_edge:
    case LimitMeasure::ahead_of_rear:
        return true;
    default:
        return false;
    }
}

/// Units of publications, and what one of them is in the unit of the measure: flashes a minute, percent,
/// microseconds, millimetres, times, flashes, groups of lamps.
enum class Unit { per_minute, hertz, percent, second, millisecond, millimetre, times, flashes, groups, none };

/// What one of it is in the measure's unit; 1 for units that are the measure's own.
constexpr double scale(Unit unit) {
    switch (unit) {
    case Unit::hertz:
        return 60;
    case Unit::second:
        return 1e6;
    case Unit::millisecond:
        return 1e3;
    default:
        return 1;
    }
}

/// Its word in limit files, tables and JSON.
constexpr std::string_view name(Mark mark) {
    constexpr std::string_view names[] = {"read", "quoted", "derived", "from memory", "common practice"};
    return names[static_cast<std::size_t>(mark)];
}
/// Its word in limit files and JSON.
constexpr std::string_view name(LimitMeasure measure) {
    constexpr std::string_view names[] = {
        "flash-rate",       "on-share",         "first-light",   "first-dark",    "first-dark-mean",
        "first-cycle",      "first-cycle-mean", "side-phase",    "hazard-phase",  "sequence-latched",
        "sequence-outward", "sequence-uniform", "sequence-time", "sequence-gap",  "sequence-aspect",
        "stop-lamp-delay",  "stop-to-tail",     "turn-colour",   "across",        "to-headlamp",
        "to-stop-lamp",     "low-edge",         "high-edge",     "ahead-of-rear", "by-hand"};
    return names[static_cast<std::size_t>(measure)];
}
/// As written behind a number.
constexpr std::string_view name(Unit unit) {
    constexpr std::string_view names[] = {"/min", "Hz",    "%",       "s",      "ms",
                                          "mm",   "times", "flashes", "groups", ""};
    return names[static_cast<std::size_t>(unit)];
}

/// How the rates of a rhythm's cycles become one figure.
enum class Averaging {
    mean_of_rates, ///< as NHTSA does: letters 01931ztv and GF006498 on SAE J945 (read)
    worse_of_both, ///< none is published: `least` against the mean period, `most` against the mean of rates
};

/// One [[limit]]: what is measured, the numbers it must keep, and who published them.
struct Limit {
    std::string id;   ///< "place.name", unique
    std::string what; ///< for people
    LimitMeasure measure{LimitMeasure::by_hand};
    std::optional<double> least; ///< in `unit`; equality keeps it
    std::optional<double> most;
    Unit unit{Unit::none};
    std::vector<std::string> kinds;   ///< of vehicle; empty: all
    std::optional<LampEnd> at;        ///< only lamps at this end; none: at both
    bool everywhere{false};           ///< holds at every place that one can ask for
    std::vector<std::string> only_if; ///< judged only if all of these are stated
    std::vector<std::string> unless;  ///< not judged if any of these is
    int after_cycles{5};              ///< rate and share: so many cycles of a run go by first
    int mean_of_cycles{3};            ///< and it takes so many more, in a row
    Averaging averaging{Averaging::worse_of_both};
    std::string publication;
    std::string clause;
    Mark mark{Mark::from_memory};
    std::string note; ///< may be empty
};

} // namespace winkhold::bike
