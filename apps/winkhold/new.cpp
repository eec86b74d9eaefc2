#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/names.hpp"
#include "winkhold/host/vehicle/new_vehicle.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

struct New {
    std::string file;
    std::string name;

    int run() const {
        const std::string text = host::new_vehicle_text(name);
        if (file == "-") {
            Output out("-");
            out.stream() << text;
            out.finish();
            return 0;
        }
        host::write_new_file(file, text);
        fmt::print("Wrote {0}: an invented bike, with comments. Make it yours:\n"
                   "  1. Record a ride and learn the flasher:  winkhold fit RIDE.csv\n"
                   "     and copy what it prints into [flasher] and [lines].\n"
                   "  2. Choose how the board decodes:  winkhold sweep {0}\n"
                   "  3. Write down your lamps, board and wires; delete what you don't know. Look at them:\n"
                   "     winkhold rules, winkhold sequence and winkhold electrics, each with {0}\n"
                   "  4. Look at the sheet:  winkhold wiring {0}\n"
                   "  5. Work through the checklist:  winkhold handover {0}\n\n{1}",
                   file, host::caution);
        return 0;
    }
};

} // namespace

CLI::App* add_new(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand("new", "Write a commented vehicle file to begin with");
    const auto options = std::make_shared<New>();
    command->add_option("FILE", options->file, "file to write, or - for standard output")->required();
    command->add_option("--name", options->name, "what the bike is called (default: Demo bike)");
    command->footer("Never writes over a file that is there.\n"
                    "Example: a file for your bike\n"
                    "  winkhold new bike.toml --name \"Red one\"");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
