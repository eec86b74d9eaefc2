/// What a front end does at worst, with every part anywhere within its tolerance.
#pragma once

#include "winkhold/bike/electrics/check.hpp"
#include "winkhold/measure/front_end/tap_edges.hpp"

#include <vector>

namespace winkhold::bike {

/// One line's tap.
struct TapFigures {
    TappedLine line{};
    bool active_low{false};
    std::vector<EdgeFigures> edges; ///< at 6, 9, 12, 14.4 and 16 V
};

/// A published transient on the 12 V line.
struct Transient {
    std::string_view name;
    double line_v; ///< peak, supply included
    double length_us;
    std::string_view source;
};

/// Those that the input is held to, each with its source.
const std::vector<Transient>& published_transients();

/// What one published transient does to the pin.
struct TransientFigures {
    Transient transient;
    double pin_v{0};    ///< extreme voltage at the capacitor while it lasts
    double clamp_ma{0}; ///< most current that the clamp takes; 0: it takes none, or there is none
    double high_us{0};  ///< for so long a dark line reads high, with the most sensitive parts; 0: not at all
};

/// Thresholds, delays and transients of one input, each at its worst.
struct FrontEndFigures {
    /// Volts of the line: reads high for certain above, and after that low for certain below.
    double certain_high_v{0};
    double certain_low_v{0};
    Range gain;
    Range tau_us;
    std::vector<EdgeFigures> edges; ///< of the turn lines, at 6, 9, 12, 14.4 and 16 V
    std::vector<TapFigures> taps;   ///< of every line that has a tap
    std::vector<TransientFigures> transients;
    double dark_line_v{0}; ///< let-go line at 16 V: pull-up against bleeder and divider, at most
    double dark_pin_v{0};
    /// Leakage from a 16 V supply that makes a dark line read high, or keeps one that was lit from reading
    /// low: onto the line, and onto the pin. Unit: ohm; more is harmless.
    double false_high_line_ohm{0};
    double false_high_pin_ohm{0};
    double stuck_line_ohm{0};
    double stuck_pin_ohm{0};
    /// The largest E24 bleeder that makes a let-go line read low in spite of the pull-up; 0: none is needed.
    double bleeder_needed_ohm{0};
    double bleeder_w{0}; ///< heat in the bleeder there is, at 16 V, at most
};

/// None if divider, capacitor, clamp or thresholds are not known.
std::optional<FrontEndFigures> figures_of(const FrontEnd& front_end);

/// Judges them. `handover_us`: the decoder's window that tells hazard from side change (0: off), for the
/// skew; `settle_us` for pulses.
void judge_front_end(const FrontEnd& front_end, TimeUs handover_us, TimeUs settle_us, Checks& checks);

} // namespace winkhold::bike
