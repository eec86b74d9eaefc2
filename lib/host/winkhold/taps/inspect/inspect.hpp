/// What the taps of a recording look like, before any setting is chosen.
#pragma once

#include "winkhold/taps/inspect/light_finder.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include "winkhold/core/watch.hpp"

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace winkhold::taps {

/// What a line that rests is: read from the level it keeps longest. A line that never rests can't be told.
enum class Polarity { high_is_lit, low_is_lit, unknown };

/// What a line looks like as a whole.
enum class LineKind {
    never_lit,    ///< no light, perhaps short pulses
    always_lit,   ///< one light from start to end
    chopped_on,   ///< lit from start to end, chopped: PWM or test pulses, no flashes
    restless,     ///< changes from start to end without any rhythm
    single_flash, ///< one light
    flashing,
};

/// Lengths of one kind. Quantiles are nearest-rank. Unit: us; all 0 if there are none.
struct Lengths {
    std::int64_t count{0};
    double mean_us{0};
    TimeUs least_us{0}, p5_us{0}, p50_us{0}, p95_us{0}, most_us{0};
};

/// Sorts its values.
Lengths lengths_of(std::vector<TimeUs> values_us);

/// Flash rate over all cycles (rise to rise), both ways of averaging: agencies average the rates of the
/// cycles (NHTSA interpretation letters on SAE J945, read), while the mean period says how much time they
/// took.
struct FlashRate {
    std::int64_t cycles{0};
    double mean_of_rates_per_min{0};
    double of_mean_period_per_min{0};
};

/// Of cycles that last so long each. All 0 if there are none.
FlashRate flash_rate_of(const std::vector<TimeUs>& periods_us);

/// How much longer the period grows in a minute, and its 95 % interval (t, n - 2). Least squares over cycles;
/// none for fewer than five.
struct Drift {
    double percent_per_min{0};
    double low{0};
    double high{0};
};

/// Bounce at one kind of edge. Settling time: from its first to its last change. Unit: us.
struct EdgeBounce {
    std::int64_t edges{0};
    std::int64_t bounced{0};
    double changes_mean{0};     ///< extra changes per edge
    Lengths settling;           ///< of all edges, clean ones as 0
    TimeUs longest_false_us{0}; ///< longest stretch at the wrong level once the edge had begun
};

/// How the lit phases are chopped.
struct Pwm {
    double hz{0};
    double duty_percent{0};                          ///< over all
    double dimmest_percent{0}, brightest_percent{0}; ///< of one cycle; 5 % are below and above
    TimeUs longest_low_us{0};

    /// A dimmer goes up and down, other PWM stays as it is.
    bool fades() const { return brightest_percent - dimmest_percent > 10; }
};

/// Levels shorter than 1, 5 and 20 ms, counted raw.
inline constexpr std::array<TimeUs, 3> short_pulse_us{1'000, 5'000, 20'000};

/// Pulses and breaks under 60 ms, if there are three or more and over one to twenty flashes.
struct Noise {
    double per_min{0};
    TimeUs busiest_from_us{0}; ///< where most of them are: one of 64 stretches or fewer
    TimeUs busiest_to_us{0};
    std::int64_t in_busiest{0};
};

/// What one turn-signal line shows.
struct LineView {
    LineKind kind{LineKind::never_lit};
    Polarity polarity{Polarity::unknown}; ///< as read; the lights below are those of this polarity
    bool rests_high{false};               ///< raw level it keeps longest
    double lit_percent{0};                ///< share of the recording, raw, within this polarity
    std::int64_t changes{0};
    std::array<std::int64_t, 3> highs_below{}; ///< of short_pulse_us
    std::array<std::int64_t, 3> lows_below{};
    std::int64_t pulses{0}; ///< highs too short for a flash: below 60 ms, where most are longer
    TimeUs longest_pulse_us{0};
    TimeUs longest_glitch_us{0}; ///< of the pulses below 20 ms
    std::int64_t breaks{0};      ///< lows as short within a light; none are counted in chopped ones
    std::optional<Noise> noise;
    /// The dark phases are chopped, the lights are not: by a running lamp if there is a `pwm`, else by noise.
    bool dark_chopped{false};
    std::optional<Pwm> pwm;
    EdgeBounce rise, fall;               ///< without figures on a chopped line
    std::vector<SeenLight> lights;       ///< breaks closed, pulses taken out
    std::vector<SeenLight> short_lights; ///< of the pulses those of 20 ms and more
    std::vector<TimeUs> on_us, dark_us;  ///< whole lights; gaps below 1 s
    Lengths on, dark;
    FlashRate rate;
    std::optional<Drift> drift;
    std::map<core::Fault, std::int64_t> faults; ///< how often the watch raised each, with what is suggested
};

/// The sides of a hazard rise no further apart than this: rise skew 0-40, fall skew 0-80 ms. Unit: us.
inline constexpr TimeUs widest_skew_us = 100'000;

/// Lights of both sides that belong to one flash: they rise together, and are both lit for a while.
inline bool one_flash(const SeenLight& left, const SeenLight& right) {
    const TimeUs skew_us = right.on_us - left.on_us;
    return -widest_skew_us <= skew_us && skew_us <= widest_skew_us && right.on_us < left.off_us &&
           left.on_us < right.off_us;
}

/// Both sides' lights of one flash. Unit: us, right minus left.
struct Skew {
    std::vector<TimeUs> rise_us, fall_us;
    /// Any flash was seen on both sides.
    bool any() const { return !rise_us.empty(); }
};

/// Steps of 0.1 V. Of the flashes' middles, 30 ms from either end.
struct Amplitudes {
    std::array<double, 2> lit_v{}; ///< median of a side's own flashes; 0 if it has none
    /// Flashes in which one side stands below 95 % of the other one, but not at rest: a shared pilot lamp, or
    /// a load-sense current, feeds it (facts F05, F06). And the median of lower through higher.
    std::int64_t fed_flashes{0};
    double fed_ratio{0};
};

/// A tap that does not flash: brake, tail or supply. Only of those that are ever high.
struct OtherTap {
    core::Lines::Tap tap{};
    std::int64_t times{0};  ///< it goes high, or is so from the begin
    double high_percent{0}; ///< of the recording
    TimeUs longest_high_us{0};
    std::int64_t short_highs{0}; ///< below 20 ms: bounce, or noise
    std::int64_t dips{0};        ///< lows below 120 ms, and ...
    TimeUs longest_dip_us{0};    ///< ... the longest of them
};

/// One setting that suits this recording, and why.
struct Suggestion {
    TimeUs us{0};
    std::string reason;
};

/// All that a recording shows, and the settings that would suit it.
struct Inspection {
    TimeUs start_us{0};
    TimeUs end_us{0};
    TimeUs tick_us{1}; ///< greatest step that divides all times: the clock of the recording
    std::array<LineView, 2> lines;
    Skew skew;
    std::vector<OtherTap> others;
    Suggestion settle, pwm_gap, hold;
    std::optional<Amplitudes> amplitudes; ///< by an AmplitudeMeter, if somebody asked one

    /// A line is lit while it reads low: read the recording inverted.
    bool inverted() const {
        return lines[0].polarity == Polarity::low_is_lit || lines[1].polarity == Polarity::low_is_lit;
    }
    /// Of the recording.
    TimeUs length_us() const { return end_us - start_us; }
};

/// Looks at edges in order of time. Memory grows with the flashes, not with the edges: many edges are kept in
/// a temporary file, for the decoder's watch can only run once its settings are known. Looks at both
/// polarities at once, since only the end tells which one is right.
class Inspector {
public:
    /// Whether the decoder's watch looks, too.
    enum class Watch {
        runs,
        left_out ///< no faults are told, and no edges kept
    };
    /// `watch`: left out, it takes less time and no temporary file.
    explicit Inspector(Watch watch = Watch::runs);
    ~Inspector();
    /// Throws InputError if the edges can't be kept.
    void feed(const Edge& edge);
    /// Nothing changes up to and including `end_us`.
    Inspection finish(TimeUs end_us);

private:
    struct State;
    std::unique_ptr<State> state_;
};

/// Throws InputError from the source.
Inspection inspect(EdgeSource& source);

/// The settings suggested by an inspection that has its lines.
void suggest(Inspection& inspection);

} // namespace winkhold::taps
