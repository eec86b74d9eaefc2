/// The rides of a soak: every bike, rider and set of settings drawn over the whole range of the axes.
#pragma once

#include "winkhold/measure/soak/axis.hpp"
#include "winkhold/measure/waveform/scenario.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

namespace winkhold::measure {

/// Who is asked too much? Apart, because the answer differs.
enum class SoakPopulation {
    as_set,         ///< the settings as given (or the defaults), any bike
    drawn_settings, ///< the settings drawn as well, any bike
    disturbed,      ///< as set, and the lines imperfect
};
inline constexpr std::array<std::string_view, 3> soak_populations{"as-set", "drawn-settings", "disturbed"};

/// The scenario of one ride; depends on (seed, ride) alone. Of eight rides, five are as_set, two have
/// drawn settings, one is disturbed.
///
/// Axes, each drawn uniformly: period 230-1200 ms, lit 25-75 %, jitter 0-15 %, side change by one of three
/// models, switch transit -50..200 ms, hazard skew 0-40 ms rising and 0-80 falling, bounce 0-20 ms; every
/// other bike has a low-pass of 0.1-12 ms before its taps. The rider turns, hesitates, presses the hazard
/// switch during a turn or a turn during a hazard, flicks from side to side (80-400 ms), taps for a
/// three-flash tip, and cancels at any phase. Drawn settings: settle 1-20 ms, hold 100-900 ms, and all other
/// rules. Disturbed lines: one to three of SoakAxis.
struct SoakRide {
    SoakPopulation population;
    Scenario scenario;
    bool filtered;              ///< a low-pass stands before the taps
    std::vector<SoakAxis> axes; ///< of disturbed lines, else empty
};

/// The bike and scenario of one ride; depends on these three alone.
SoakRide draw_soak_ride(std::uint64_t seed, std::uint64_t ride, const core::Settings& settings);

/// The stream of the ride's waveform, beside the one that drew its scenario: a trial for RideMaker::make().
constexpr std::uint64_t soak_trial(std::uint64_t ride) {
    return 2 * ride + 1;
}

/// The same ride with faultless taps: what differs on the lines is the taps' doing. What flasher and rider do
/// otherwise than usual stays, and is in Ride::planted.
Trace undisturbed_trace(const SoakRide& soak, std::uint64_t seed, std::uint64_t ride);

} // namespace winkhold::measure
