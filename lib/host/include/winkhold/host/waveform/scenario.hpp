/// A scenario: which flasher, which contacts, what the rider does, and how to decode it.
/// read_scenario() reads one from TOML; the README documents the fields.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/core/settings.hpp"
#include "winkhold/host/time.hpp"

#include <string>
#include <vector>

namespace winkhold::host {

/// A figure that varies from bike to bike: drawn uniformly from [least, most], once a trial.
struct Range {
    double least{0};
    double most{0};

    bool fixed() const { return least == most; }
};

/// What a flasher does with its rhythm when the rider changes sides. All three are on the road.
enum class SideChange {
    restart,      ///< each selection starts with a full bright phase (electronic flasher units)
    free_running, ///< the oscillator never stops, the switch merely gates it
    whole_cycle,  ///< a controller finishes its cycle, dark phase included, before it does anything else
};

struct FlasherModel {
    Range rate_per_min{85, 85};
    Range duty_percent{50, 50}; ///< share of the period lit
    double jitter_percent{1};   ///< each phase x (1 + sigma N), N standard normal cut at +-6
    SideChange side_change{SideChange::restart};
    TimeUs start_delay_us{0};         ///< switch closed -> first light (not used by free_running)
    TimeUs first_on_extra_us{0};      ///< a slow thermal flasher's first bright phase is this much longer
    TimeUs first_dark_us{0};          ///< or it stays dark this long before the first light
    int lamp_out_after_flashes{0};    ///< 0: no lamp fails
    double lamp_out_rate_factor{2.2}; ///< flasher data sheets: 2.15-2.3 (read)
    double lamp_out_duty_percent{40}; ///< flasher data sheets: 37-45 % (read)
};

/// From lamp to tap.
struct ContactModel {
    TimeUs bounce_us{3'000}; ///< after each edge the contact may bounce this long; 0: clean edges
    int bounce_pulses{3};    ///< at most this many false pulses an edge, at least one
    Range rise_skew_us{0,
                       0}; ///< hazard: right lights this much after left (negative: before), drawn each flash
    Range fall_skew_us{0, 0};
};

/// One thing the rider asks for: so many whole flashes and then a uniformly random part of one more, or a
/// time.
struct RiderStep {
    core::Indication show{core::Indication::off};
    bool by_flashes{false};
    Range flashes{0, 0};
    Range for_us{0, 0};
};

struct RiderModel {
    TimeUs transit_us{70'000}; ///< switch travel from one side to the other: neither contact is closed
    std::vector<RiderStep> script;
    int repeat{1};
};

struct Scenario {
    std::string name;
    FlasherModel flasher;
    ContactModel contacts;
    RiderModel rider;
    core::Settings decoder;

    /// True if trials differ by bike, so that dropouts cluster by bike.
    bool is_population() const { return !flasher.rate_per_min.fixed() || !flasher.duty_percent.fixed(); }
};

/// Reads a scenario. A `[vehicle] file = "..."` is read first (relative to `path`) and then overridden.
/// Throws InputError naming file, line and field: missing file, bad TOML, unknown field, value out of range.
Scenario read_scenario(const std::string& path);

/// Reads only the `[decoder]` section of a TOML file over `base`. Throws InputError.
core::Settings read_settings(const std::string& path, const core::Settings& base);

} // namespace winkhold::host
