#include "commands.hpp"
#include "output.hpp"

#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/vehicle/new_vehicle.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

constexpr const char* what_next = R"(Wrote {0}: {1}. Make it yours:
  1. Record a ride and learn the flasher:  winkhold fit RIDE.csv --onto {0}
  2. Choose how the board decodes:  winkhold sweep {0} --onto {0}
  3. Write down your lamps, board and wires; leave out what you don't know.
     Look at them with winkhold limits, winkhold sequence and winkhold
     electrics, each with {0}
  4. Look at the sheet:  winkhold wiring {0}
  5. Work through the checklist:  winkhold checklist {0}
{2}
{3})";

constexpr const char* about_marks = R"(
A section that says "example = true" is the invented bike's: nothing in it
passes a check. Delete that line once all below it is yours.
)";

struct New {
    std::string file;
    std::string name;
    bool empty{false};
    Force force;

    void declare(Command& command) {
        command.name = "new";
        command.summary = "Write a commented vehicle file to begin with";
        command.argument("FILE", file, "file to write, or - for standard output");
        command.text("--name", "NAME", name, "what the bike is called").shown_as_default("the demo's name");
        command.flag("--empty", empty, "headings and comments only, nothing of the invented bike");
        force.add_to(command);
        command.example_for = "a file for your bike";
        command.example = {"winkhold new bike.toml --name \"Red one\""};
    }

    int run() const {
        const std::string text =
            host::new_vehicle_text(name, empty ? host::NewVehicle::empty : host::NewVehicle::example);
        if (file == "-") {
            Output::print(text);
            return 0;
        }
        Output::write(file, force.given(), text);
        Output::print(fmt::format(what_next, file,
                                  empty ? "headings and comments" : "an invented bike, with comments",
                                  empty ? "" : about_marks, host::caution));
        return 0;
    }
};

} // namespace

Command new_command() {
    return command_of<New>();
}

} // namespace winkhold::app
