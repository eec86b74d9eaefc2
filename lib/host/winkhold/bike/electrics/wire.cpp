#include "winkhold/bike/electrics/wire.hpp"

namespace winkhold::bike {
namespace {

constexpr Gauge gauges[] = {
    {24, 84.2, 3.5}, {22, 53.2, 7}, {20, 33.5, 11}, {18, 21.0, 16}, {16, 13.2, 22},
};
constexpr double blade_fuses_a[] = {1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30}; // common practice, no source

} // namespace

std::optional<Gauge> gauge_of(int awg) {
    for (const Gauge& gauge : gauges)
        if (gauge.awg == awg) return gauge;
    return {};
}

std::optional<double> fuse_for(double load_a) {
    for (const double fuse_a : blade_fuses_a)
        if (fuse_a * fuse_loaded_to >= load_a) return fuse_a;
    return {};
}

std::optional<WireRun> wire_run(int awg, double length_m, double load_a) {
    const auto gauge = gauge_of(awg);
    if (!gauge) return {};
    WireRun run{*gauge, length_m, load_a, 2 * length_m * gauge->ohm_per_km / 1e3 * load_a, fuse_for(load_a)};
    if (run.fuse_a && *run.fuse_a > gauge->ampacity_a) run.fuse_a.reset();
    return run;
}

} // namespace winkhold::bike
