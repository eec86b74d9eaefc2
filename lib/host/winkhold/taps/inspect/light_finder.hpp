/// One raw line -> the lights it shows, and what happens at their edges. Needs no settings: they are what an
/// inspection is to find.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/taps/inspect/busy_stretch.hpp"
#include "winkhold/taps/inspect/run_lengths.hpp"

#include <deque>
#include <optional>
#include <vector>

namespace winkhold::taps {

/// Contacts come to rest within this time, and no PWM pauses longer (facts: bounce up to 20 ms, PWM from 60
/// Hz; the decoder takes a shorter gap for chatter, too). Unit: us.
inline constexpr TimeUs unrest_us = 25'000;

/// One bright phase: highs with no low of `unrest_us` or longer between.
struct SeenLight {
    TimeUs on_us{0};        ///< first high
    TimeUs off_us{0};       ///< first low of the last unrest; the end of the recording if it is still lit
    TimeUs last_high_us{0}; ///< off_us, or later if the fall bounces
    bool from_start{false}; ///< lit since before the recording
    bool to_end{false};     ///< lit at its end
    /// When the level changed again within `unrest_us` of on_us: time since on_us, at most 64 of them. Unit:
    /// us.
    std::vector<std::int32_t> rise_changes_us{};
    int fall_changes{0};    ///< level changes between off_us and last_high_us, both included, less one
    TimeUs rise_low_us{0};  ///< longest low within the rise's unrest
    TimeUs fall_high_us{0}; ///< longest high within the fall's unrest
    bool mended{false};     ///< put together from pieces, or beside a pulse: an end may be wrong
    TimeUs after_pulse_us{
        0};                 ///< since the begin of the last pulse in the dark ahead of it; 0: there was none
    TimeUs pulse_lit_us{0}; ///< and how long that was

    /// Both its ends were recorded.
    bool whole() const { return !from_start && !to_end; }
    /// From first high to first low of the last unrest.
    TimeUs lit_us() const { return off_us - on_us; }
    /// How long the rise bounced; 0 if it did not.
    TimeUs rise_settles_us() const { return rise_changes_us.empty() ? 0 : rise_changes_us.back(); }
    /// How long the fall bounced; 0 if it did not.
    TimeUs fall_settles_us() const { return last_high_us - off_us; }
};

/// How the bright phases are chopped: by rises that follow each other within 50 ms, four times and for 25 ms
/// at least. Contacts have come to rest by then.
struct Chopping {
    RunLengths cycles;      ///< rise to rise
    RunLengths lows;        ///< within these cycles
    double high_us{0};      ///< of these cycles, the part that is high
    TimeUs low_most_us{0};  ///< longest low
    std::int64_t lights{0}; ///< that are chopped for a while at least
};

/// Memory grows with the lights, not with the edges.
class LightFinder {
public:
    /// Lows below `bridged_us` belong to the light; what is lit for less than `least_us` is a pulse, no
    /// light.
    LightFinder(TimeUs bridged_us, TimeUs least_us) : bridged_us_(bridged_us), least_us_(least_us) {}

    /// The line changes to `high` at `t_us`; calls in order of time, each a change. A light that begins
    /// `at_start`, so close to the recording's begin that it may go back further, is from_start; one that
    /// ends as close to the recording's end is to_end.
    void change(TimeUs t_us, bool high, bool at_start);
    /// Nothing changes up to and including `end_us`; a light still lit ends there.
    void finish(TimeUs end_us);

    std::vector<SeenLight> lights;
    Chopping chopping;
    std::int64_t pulses{0}; ///< too short for a light
    TimeUs longest_pulse_us{0};
    std::int64_t breaks{0}; ///< bridged lows in the middle of a light, away from its edges' unrest
    BusyStretch noise;      ///< when pulses and breaks came

private:
    struct Cycle {
        TimeUs us;
        TimeUs low_us;
    };

    void rise(TimeUs t_us, bool at_start);
    void fall(TimeUs t_us);
    void note_change(TimeUs t_us);
    void note_cycle(Cycle cycle);
    void count_cycle(Cycle cycle);
    void break_run();
    void count_breaks();
    void note_pulse();
    void close(bool to_end);
    void find_fall(SeenLight& light) const;

    TimeUs bridged_us_;
    TimeUs least_us_;
    bool open_{false};
    SeenLight light_;
    TimeUs last_rise_us_{0};
    TimeUs last_fall_us_{0};
    std::vector<Cycle> run_; ///< of rises close to each other, until it is long enough to count
    TimeUs run_us_{0};
    bool run_counts_{false};
    bool light_is_chopped_{false};
    std::vector<TimeUs> lows_at_us_; ///< of this light, as long as they may be its fall's unrest
    std::optional<TimeUs> start_us_;
    struct Pulse {
        TimeUs on_us;
        TimeUs off_us;
    };
    std::optional<Pulse> pulse_; ///< the last one since the last light
    struct High {
        TimeUs rise_us;
        TimeUs fall_us;
    };
    std::deque<High> recent_; ///< highs of this light that ended within the last `unrest_us`
};

} // namespace winkhold::taps
