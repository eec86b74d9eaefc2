/// The taps in volts, and the input stage that makes levels of them again.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/base/time.hpp"
#include "winkhold/measure/front_end/front_end.hpp"

namespace winkhold::measure {

/// Volts behind the levels. Drawn each ride unless said otherwise. Without it the taps are ideal levels.
struct LineVolts {
    bool used{false};
    Range supply_v{12.6}; ///< what a lit lamp's tap reads
    Range dark_v{0};      ///< what a dark one reads: poor ground, or a pull-up's ghost
    Range cross_feed{0};  ///< share of the driven side's volts that the pilot lamp feeds into the idle side
    Range fall_tau_us{0}; ///< lamps with input capacitors fall as exp(-t / tau)

    /// Supply dips: every so often, this long, to this voltage; drawn anew.
    Range dip_every_us{0};
    Range dip_us{0};
    Range dip_v{0};
    Range crank_at_us{0};   ///< the starter turns: down to 3 V, then 6.5 V; 0: never
    Range key_off_at_us{0}; ///< supply and lines go within `key_off_spread_us` of here; 0: never
    TimeUs key_off_spread_us{5'000};

    /// Spikes on both lines: so many a second, evenly; length and added volts drawn anew for each.
    Range spikes_per_s{0};
    Range spike_us{0};
    Range spike_v{0};

    /// The input stage as a network of parts, drawn each ride for each tap within their tolerances. Then the
    /// plain one below is not used.
    std::optional<FrontEnd> front_end;

    /// The plain input stage: clamp or saturation, low-pass, thresholds with hysteresis.
    Range clamp_v{1'000};
    TimeUs filter_tau_us{1'000}; ///< removes spikes below 1 ms
    double on_above_v{5.0};
    double off_below_v{3.5};
};

} // namespace winkhold::measure
