/// What a recording or a simulated ride shows of what is limited.
#pragma once

#include "winkhold/host/inspect/inspect.hpp"
#include "winkhold/host/trace/timeline.hpp"
#include "winkhold/host/waveform/ride.hpp"

namespace winkhold::host {

/// A tapped line, or all turn lamps of a side.
enum class SignalOf { line, lamps };

/// Something that flashes on one side.
struct Signal {
    SignalOf of{};
    core::Side side{};
    std::vector<SeenLight> lights; ///< in order of time

    std::string name() const; ///< "left line"
};

/// The switch asks for one thing from `start_us` to `end_us`. Never for off.
struct Asked {
    core::Indication show{};
    TimeUs start_us{0};
    TimeUs end_us{0};
};

struct Observed {
    std::int64_t trial{0}; ///< of a simulation
    std::vector<Signal> signals;
    /// What the switch asked for, in order of time. A recording of lamp lines does not tell: none.
    std::optional<std::vector<Asked>> asked;
    TimeUs end_us{0};
    std::vector<std::string> notes; ///< what else was seen, a sentence each
};

/// Throws InputError from the source.
Observed observe(EdgeSource& source);
/// A simulated ride knows its rider.
Observed observe(const Ride& ride, std::int64_t trial);

/// What the switch asked for, from its changes.
std::vector<Asked> asked_in(const Timeline& switched, TimeUs end_us);

} // namespace winkhold::host
