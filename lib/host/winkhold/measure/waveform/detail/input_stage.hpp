/// One tap's way to a level: saturation, divider, low-pass, clamp, thresholds with hysteresis. Crossings are
/// computed, never stepped to.
#pragma once

#include "winkhold/measure/front_end/input_network.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <limits>

namespace winkhold::measure {

class InputStage {
public:
    static constexpr double none_v = std::numeric_limits<double>::infinity();

    struct Design {
        double saturation_v{none_v}; ///< the line counts as no more than this, ahead of divider and low-pass
        LowPass stiff;               ///< driven by lamp switch or a lamp's own capacitor
        LowPass dark;                ///< let go: only bleeder and pull-up hold the line
        double clamp_v{none_v};      ///< a clamp beside the capacitor keeps it there
        double on_above_v{5.0};      ///< of the capacitor
        double off_below_v{3.5};
    };

    /// At rest at time 0, the line at `volts` behind `drive`.
    InputStage(const Design& design, double volts, const LowPass& drive);

    /// The line is held at `volts` behind `drive` for [from_us, to_us).
    void hold(double from_us, double to_us, double volts, const LowPass& drive);
    /// The line falls stiffly from `volts` toward `toward_v` as exp(-t / tau) during [from_us, to_us).
    void fall(double from_us, double to_us, double volts, double toward_v, double tau_us);

    const Design& design() const { return design_; }
    /// Now, at the capacitor.
    double volts() const { return volts_; }
    /// Changes so far, from low, in whole microseconds (rounded up).
    std::vector<LevelChange>& changes() { return changes_; }

private:
    /// The line: `end_v + slow_v exp(-t / slow_tau_us)`.
    struct Source {
        double end_v;
        double slow_v;
        double slow_tau_us;

        Source after(double t_us) const;
    };
    /// The capacitor while nothing clamps it: the same and `fast_v exp(-t / fast_tau_us)`.
    struct Response {
        double end_v;
        double slow_v;
        double slow_tau_us;
        double fast_v;
        double fast_tau_us;

        double at(double t_us) const;
        /// Where it turns round, or -1.
        double turns_us() const;
    };

    void run(double from_us, double to_us, Source source, const LowPass& drive);
    Response response(const Source& source, const LowPass& drive) const;
    double free_until_us(const Response& response, double length_us) const;
    double clamped_until_us(const Source& source, const LowPass& drive, double length_us) const;
    void cross(double from_us, double length_us, const Response& response);
    void piece(double from_us, double start_us, double stop_us, const Response& response);
    void change(double t_us);

    Design design_;
    double volts_;
    bool high_{false};
    std::vector<LevelChange> changes_;
};

} // namespace winkhold::measure
