/// How high the lines stand in their flashes, from the volts of a second reading.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

namespace winkhold::taps {

/// Takes the volts of a recording that has been inspected. Memory grows with the flashes, not with the
/// samples.
class AmplitudeMeter {
public:
    /// For the recording that was inspected; only its flashes are looked at.
    explicit AmplitudeMeter(const Inspection& seen);
    ~AmplitudeMeter();

    /// The line stands at `volts` from `t_us` on, until it is said otherwise; in order of time.
    void volts(TimeUs t_us, core::Side line, double volts);

    /// None if no volts came (the recording has levels), or no flash is long enough.
    std::optional<Amplitudes> finish(TimeUs end_us);

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace winkhold::taps
