#include "winkhold/base/error.hpp"
#include "winkhold/measure/sweep/sweep.hpp"

int main() {
    namespace host = winkhold::host;
    try {
        host::scenario_of(host::Vehicle::read("no such file.toml"));
        return 1;
    } catch (const host::InputError&) {
    }
    host::Scenario scenario;
    scenario.rider.script.push_back({winkhold::core::Indication::left, true, {5, 5}, {}});
    scenario.rider.script.push_back({winkhold::core::Indication::off, false, {}, {2e6, 2e6}});
    host::SweepPlan plan;
    plan.grid = host::parse_grid("40ms", "guard");
    return host::sweep_scenario(scenario, plan).flashes > 4'000 ? 0 : 1;
}
