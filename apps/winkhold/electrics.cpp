#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/electrics_report.hpp"

namespace winkhold::app {
namespace {

struct Electrics {
    std::string vehicle;
    bool json{false};

    int run() const {
        const host::Electrics electrics = host::judge_electrics(vehicle);
        Output out("-");
        out.stream() << (json ? host::electrics_json(electrics) : host::electrics_text(electrics));
        out.finish();
        return electrics.has_findings() ? 1 : 0;
    }
};

} // namespace

CLI::App* add_electrics(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "electrics", "Front end, lamp strings, board, wires and battery of a vehicle, judged");
    const auto options = std::make_shared<Electrics>();
    command->add_option("VEHICLE", options->vehicle, "vehicle file (.toml)")->required();
    command->add_flag("--json", options->json, "write JSON (schema in the README)");
    command->footer("Example: the demo bike\n"
                    "  winkhold electrics data/vehicles/demo.toml");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
