/// A scenario: which flasher, which contacts, what goes wrong, what the rider does, and how to decode it.
/// scenario_of() reads one from a vehicle file; data/README.md documents the fields.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/base/time.hpp"
#include "winkhold/base/vehicle/vehicle.hpp"
#include "winkhold/core/lines.hpp"
#include "winkhold/core/settings.hpp"
#include "winkhold/measure/waveform/clock.hpp"
#include "winkhold/measure/waveform/line_volts.hpp"
#include "winkhold/measure/waveform/tap_faults.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace winkhold::measure {

/// What a flasher does with its rhythm when the rider changes sides. All three are on the road.
enum class SideChange {
    restart,      ///< each selection starts with a full bright phase (electronic flasher units)
    free_running, ///< the oscillator never stops, the switch merely gates it
    whole_cycle,  ///< a controller finishes its cycle, dark phase included, before it does anything else
};
inline constexpr SideChange all_side_changes[] = {SideChange::restart, SideChange::free_running,
                                                  SideChange::whole_cycle};
/// As scenarios spell it.
constexpr std::string_view name(SideChange model) {
    constexpr std::string_view names[] = {"restart", "free-running", "whole-cycle"};
    return names[static_cast<std::size_t>(model)];
}

/// A second rhythm that the flasher takes now and then: hazards at another tempo, a bulb that is loose, a
/// first touch of 4 Hz. It is taken where all that is said here agrees.
struct SecondRhythm {
    /// In which requests it happens.
    enum class In { all, turns, hazards };

    Range rate_factor{1};         ///< times the usual rate; drawn once a bike
    Range duty_percent{0};        ///< share lit; 0: as usual; drawn once a bike
    In in{In::all};               ///< what is asked for
    double requests_percent{100}; ///< share of requests, drawn for each
    double flashes_percent{100};  ///< share of flashes, drawn for each
    Range from_flash{1};          ///< of each request, from this flash of it on; whole; drawn once a bike
    Range to_flash{1'000'000};    ///< and up to this one
    Range after_flashes{0};       ///< of the ride: not before so many flashes; whole; drawn once a bike
    bool in_turns{false};         ///< so many flashes as usual, so many in this rhythm, and so on
    /// False: there is only the usual one, and nothing of this is drawn.
    bool used{false};
};

/// Rate and duty are drawn once a bike, the first flash each time it comes.
struct FlasherModel {
    Range rate_per_min{85};
    Range duty_percent{50};          ///< share of the period lit
    std::vector<TimeUs> cycle_us;    ///< if given: lit, dark, lit, dark, ... instead of rate and duty
    double jitter_percent{1};        ///< each phase x (1 + sigma N), N standard normal cut at +-6
    double drift_percent_per_min{0}; ///< the period grows by this share of its first length a minute
    SideChange side_change{SideChange::restart};
    TimeUs start_delay_us{0};        ///< switch closed -> first light (not used by free_running)
    Range first_on_extra_us{0};      ///< a slow thermal flasher's first bright phase is this much longer
    Range first_dark_us{0};          ///< or it stays dark this long before the first light
    int lamp_out_after_flashes{0};   ///< 0: no lamp fails
    int lamp_out_for_flashes{0};     ///< then back to normal; 0: for good
    Range lamp_out_rate_factor{2.2}; ///< flasher data sheets: 2.15-2.3 (read); drawn once a bike
    Range lamp_out_duty_percent{40}; ///< flasher data sheets: 37-45 % (read); drawn once a bike
    double missing_flash_percent{0}; ///< share of bright phases that stay dark (never the first of a request)
    SecondRhythm second_rhythm;
    int stays_on_from_flash{0}; ///< this flash of each request never ends by itself; 0: none
    int tip_flashes{0}; ///< a shorter request is carried on for so many flashes, unless another one comes
};

/// From lamp to tap.
struct ContactModel {
    TimeUs bounce_us{3'000}; ///< after each edge the contact may bounce this long; 0: clean edges
    int bounce_pulses{3};    ///< at most this many false pulses an edge, at least one
    Range rise_skew_us{0};   ///< hazard: right lights this much after left, drawn each flash
    Range fall_skew_us{0};
};

/// One thing the rider asks for: so many whole flashes and then a uniformly random part of one more, or a
/// time.
struct RiderStep {
    core::Indication show{core::Indication::off};
    bool by_flashes{false};
    Range flashes{0};
    Range for_us{0};
};

/// The brake is pressed.
struct Press {
    TimeUs from_us{0};
    TimeUs for_us{0};
    bool by_pedal{false}; ///< or by the lever; each has a switch
};

/// The thumb closes the switch for a moment, lets it go, and then asks. The request begins with the first
/// press.
struct Fumble {
    double percent{0};  ///< share of requests that begin after 400 ms of silence
    Range for_us{0};    ///< how long the first press lasts; drawn each time
    Range before_us{0}; ///< from its end to the light of the request proper; drawn each time
};

/// The thumb brushes the switch after a cancel: a light that nobody asks for.
struct Touch {
    double percent{0}; ///< share of turns, where 50 ms are left before the next request
    Range after_us{0}; ///< from the cancel on; drawn each time
    Range for_us{0};   ///< how long; drawn each time
    bool other_side{false};
};

/// What the rider does, step by step, and how the switch moves.
struct RiderModel {
    /// Switch travel from one side to the other, drawn each time: neither contact is closed. Below zero the
    /// switch makes before it breaks: both are closed that long.
    Range transit_us{70'000};
    std::vector<RiderStep> script;
    int repeat{1};
    Fumble fumble;
    Touch touch;
    std::vector<Press> brake; ///< each switch's in order of time, apart from each other
    bool tail{false};         ///< lights on, all along
};

/// All that a simulated ride depends on, besides seed and trial. The README's table has every field.
struct Scenario {
    std::string name;
    FlasherModel flasher;
    ContactModel contacts;
    TapFaults taps;
    LineVolts volts;
    RiderModel rider;
    ClockModel clock; ///< for replays; the waveform does not depend on it
    core::Settings decoder;

    /// True if trials differ by bike, so that dropouts cluster by bike.
    bool is_population() const { return !flasher.rate_per_min.fixed() || !flasher.duty_percent.fixed(); }
};

/// The vehicle as a scenario. Throws InputError naming file, line and field: unknown field, value out of
/// range, a rider who asks for nothing.
Scenario scenario_of(const Vehicle& vehicle);
/// The same, but a vehicle without [rider] rides as the demo does: to look at its lamps.
Scenario scenario_or_demo_ride(const Vehicle& vehicle);

/// A scenario of a file with `[[variant]]` tables, each laid over the file's own sections.
struct Variant {
    std::string name; ///< empty for a file without variants
    Scenario scenario;
};

/// All variants of the vehicle's own file, or the scenario itself if it has none. Throws InputError as
/// scenario_of().
std::vector<Variant> variants_of(const Vehicle& vehicle);

} // namespace winkhold::measure
