/// How high the lines stand, found by reading the recording again at one threshold after another.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

#include <functional>

namespace winkhold::taps {

/// Opens the same recording anew; both thresholds at `volts`.
using OpenAt = std::function<std::unique_ptr<EdgeSource>(double volts)>;

/// None if the recording has no volts (levels ignore thresholds), or no flash is long enough. Reads it 33
/// times. Throws InputError from the source.
std::optional<Amplitudes> measure_amplitudes(const Inspection& seen, const OpenAt& open);

} // namespace winkhold::taps
