/// One tap's input: clamp, low-pass, thresholds with hysteresis. Crossings are computed, never stepped to.
#pragma once

#include "winkhold/host/waveform/ride.hpp"

namespace winkhold::host {

class InputStage {
public:
    struct Design {
        double clamp_v;
        double filter_tau_us;
        double on_above_v;
        double off_below_v;
    };

    /// At rest at `volts` at time 0.
    InputStage(const Design& design, double volts);

    /// The tap is held at `volts` for [from_us, to_us).
    void hold(double from_us, double to_us, double volts);
    /// The tap falls from `volts` toward `toward_v` as exp(-t / tau) during [from_us, to_us).
    void fall(double from_us, double to_us, double volts, double toward_v, double tau_us);

    /// Changes so far, from low, in whole microseconds (rounded up).
    std::vector<LevelChange>& changes() { return changes_; }

private:
    /// The filter's output while its input is `end_v + slow_v exp(-t / slow_tau_us)`.
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

    void run(double from_us, double to_us, const Response& response);
    void piece(double from_us, double start_us, double stop_us, const Response& response);
    void change(double t_us);

    Design design_;
    double volts_; ///< the filter's output
    bool high_{false};
    std::vector<LevelChange> changes_;
};

} // namespace winkhold::host
