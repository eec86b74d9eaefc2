#include "winkhold/base/error.hpp"
#include "winkhold/measure/sweep/sweep.hpp"
#include "winkhold/taps/capture/recording.hpp"
#include "winkhold/taps/verify/report.hpp"

namespace host = winkhold::host;

template <class Read>
bool refuses(Read&& read) {
    try {
        read();
    } catch (const host::InputError&) {
        return true;
    }
    return false;
}

/// Reaches what each of the library's own libraries is there for: TOML, sound files, XML.
bool reads_and_writes() {
    host::VerifyRun run;
    run.folder = "cases";
    return refuses([] { host::Vehicle::read("no such file.toml"); }) &&
           refuses([] { host::open_recording("no such file.wav", {}); }) &&
           host::verify_junit(run).find("<testsuite") != std::string::npos;
}

int main() {
    host::Scenario scenario;
    scenario.rider.script.push_back({winkhold::core::Indication::left, true, {5, 5}, {}});
    scenario.rider.script.push_back({winkhold::core::Indication::off, false, {}, {2e6, 2e6}});
    host::SweepPlan plan;
    plan.grid = host::parse_grid("40ms", "guard");
    return reads_and_writes() && host::sweep_scenario(scenario, plan).flashes > 4'000 ? 0 : 1;
}
