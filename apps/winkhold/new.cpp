#include "commands.hpp"
#include "output.hpp"

#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/vehicle/new_vehicle.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

constexpr const char* what_next = R"(Wrote {0}: an invented bike, with comments. Make it yours:
  1. Record a ride and learn the flasher:  winkhold fit RIDE.csv
     and copy what it prints into [flasher] and [lines].
  2. Choose how the board decodes:  winkhold sweep {0}
  3. Write down your lamps, board and wires; delete what you don't know.
     Look at them with winkhold limits, winkhold sequence and winkhold
     electrics, each with {0}
  4. Look at the sheet:  winkhold wiring {0}
  5. Work through the checklist:  winkhold checklist {0}

{1})";

struct New {
    std::string file;
    std::string name;
    Force force;

    void declare(Command& command) {
        command.name = "new";
        command.summary = "Write a commented vehicle file to begin with";
        command.argument("FILE", file, "file to write, or - for standard output");
        command.text("--name", "NAME", name, "what the bike is called").shown_as_default("the demo's name");
        force.add_to(command);
        command.example_for = "a file for your bike";
        command.example = {"winkhold new bike.toml --name \"Red one\""};
    }

    int run() const {
        const std::string text = host::new_vehicle_text(name);
        if (file == "-") {
            Output::print(text);
            return 0;
        }
        Output::write(file, force.given(), text);
        Output::print(fmt::format(what_next, file, host::caution));
        return 0;
    }
};

} // namespace

Command new_command() {
    return command_of<New>();
}

} // namespace winkhold::app
