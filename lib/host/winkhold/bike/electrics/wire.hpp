/// Wires and fuses.
#pragma once

#include "winkhold/base/wings.hpp"

#include <optional>

namespace winkhold::bike {

/// Copper at 20 C, as widely reprinted AWG tables give it (quoted).
struct Gauge {
    int awg;
    double ohm_per_km;
    double ampacity_a; ///< chassis wiring
};

/// A fuse carries this share of what it says for good (common practice).
inline constexpr double fuse_loaded_to = 0.75;

/// AWG 24 to 16, even numbers; none for another gauge.
std::optional<Gauge> gauge_of(int awg);

/// A wire there and its like back.
struct WireRun {
    Gauge gauge;
    double length_m{0}; ///< one way
    double load_a{0};
    double drop_v{0};             ///< there and back
    std::optional<double> fuse_a; ///< least blade fuse with load / 0.75 <= fuse <= ampacity
};

/// None if the gauge is not in the table.
std::optional<WireRun> wire_run(int awg, double length_m, double load_a);

/// The least common blade fuse of load / 0.75 or more; none above 30 A.
std::optional<double> fuse_for(double load_a);

} // namespace winkhold::bike
