/// A recording -> the flasher, contacts and switch of that bike, as a scenario has them.
#pragma once

#include "winkhold/measure/waveform/scenario.hpp"
#include "winkhold/taps/inspect/inspect.hpp"

#include <array>
#include <cstdint>
#include <optional>

namespace winkhold::measure {

/// `low` to `high` covers the truth in 95 of 100 recordings.
struct Estimate {
    double value{0};
    double low{0};
    double high{0};

    /// The interval holds `truth`; its ends count.
    bool covers(double truth) const { return low <= truth && truth <= high; }
    /// Of the interval, in the estimate's unit.
    double width() const { return high - low; }
};

/// The model, as in a scenario: a phase lasts m (1 + drift t)(1 + sigma N), m its mean, t from the ride's
/// start. Means hold at `at_min`, the middle of the phases, where they don't depend on the drift.
struct RhythmFit {
    std::int64_t on_count{0};
    std::int64_t dark_count{0};
    std::int64_t odd{0}; ///< phases that fit no rhythm, left out
    double at_min{0};
    Estimate on_us, dark_us, period_us;
    Estimate rate_per_min, duty_percent;
    Estimate jitter_percent;
    Estimate drift_percent_per_min; ///< at `at_min`; the widest there is (-100, 100) if it can't be told
    bool drifts{false};             ///< sure enough (99 %) to be part of the scenario
};

/// Bounce as a scenario has it: on closing 1 to `pulses` false pulses cut the time `bounce` into equal slots,
/// and each change falls into its slot.
struct BounceFit {
    std::int64_t rises{0};
    Estimate bounce_us;
    Estimate pulses;
    bool like_model{
        true}; ///< false: no bounce time explains all rises; the interval then rests on the worst one
};

/// A uniform range from its least and its most figure among n.
struct SkewFit {
    std::int64_t flashes{0};
    Estimate least_us;
    Estimate most_us;
};

/// What the flasher does at a change of side, and what the changes say of it.
struct SideChangeFit {
    std::int64_t changes{0};         ///< from side to side without a rest
    std::array<double, 3> chance{};  ///< of each SideChange, given what was seen and equal chances before
    std::optional<SideChange> model; ///< if one has 95 % and a side change was recorded
    std::int64_t cut{0};             ///< changes that cut a light: they show the switch's travel
    double dark_least_us{0};         ///< last fall to first rise of these; start delay included
    double dark_most_us{0};
};

/// A second rhythm in the same recording.
struct OtherRhythm {
    RhythmFit rhythm;
    bool lamp_out{false};    ///< quicker by a third or more and in one stretch: a lamp has failed
    bool interleaved{false}; ///< both take turns: flashes in groups
    int group_size{0};       ///< of so many flashes, the last one with the slow dark phase; 0: unknown
};

/// A bike as its recording shows it: what `winkhold fit` writes as a scenario.
struct BikeFit {
    Inspection seen;
    std::int64_t bursts{0};
    std::int64_t set_aside{0}; ///< flashes that noise has spoilt: broken, or a pulse next to them
    RhythmFit rhythm;          ///< of a bike with two rhythms the slower one
    std::optional<OtherRhythm> other;
    std::int64_t missing{0}; ///< dark gaps that are two with a flash left out between
    Estimate missing_flash_percent;
    SideChangeFit side_change;
    BounceFit bounce;
    std::optional<SkewFit> rise_skew, fall_skew;
    std::optional<Estimate>
        first_on_extra_us; ///< first lights that are all longer: least and most as interval
};

/// Throws InputError if the recording has too few whole flashes for a rhythm, saying how many it needs, or if
/// less than half of the time between them keeps to one; `file` names it.
BikeFit fit_bike(Inspection seen, const std::string& file);

} // namespace winkhold::measure
