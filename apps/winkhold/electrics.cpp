#include "commands.hpp"
#include "format.hpp"

#include "winkhold/bike/electrics/report.hpp"

namespace winkhold::app {
namespace {

struct Electrics {
    std::string vehicle;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "electrics";
        command.summary = "Judge front end, lamp strings, board, wires and battery";
        command.argument("VEHICLE", vehicle, "vehicle file (.toml)").reading(Reads::vehicle);
        format.add_to(command, {Format::json});
        command.notes = "Exit code 1 if anything is found wrong.";
        command.example_for = "the demo bike";
        command.example = {"winkhold electrics data/vehicles/demo.toml"};
    }

    int run() const {
        const host::Electrics electrics = host::judge_electrics(host::Vehicle::read(vehicle));
        format.print({.text = [&] { return host::electrics_text(electrics); },
                      .json = [&] { return host::electrics_json(electrics); }});
        return electrics.has_findings() ? 1 : 0;
    }
};

} // namespace

Command electrics_command() {
    return command_of<Electrics>();
}

} // namespace winkhold::app
