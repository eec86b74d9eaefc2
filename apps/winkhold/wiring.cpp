#include "commands.hpp"
#include "format.hpp"

#include "winkhold/bike/wiring/report.hpp"

namespace winkhold::app {
namespace {

struct Wiring {
    std::string vehicle;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "wiring";
        command.summary = "List every connection, checked as a net: shorts, ways there and back, fuses";
        command.argument("VEHICLE", vehicle, "vehicle file with [[wires]]").reading(Reads::vehicle);
        format.add_to(command, {Format::csv, Format::markdown, Format::json});
        command.notes = "Exit code 1 if anything is found wrong; warnings alone are 0.";
        command.example_for = "a sheet to print and hang up in the garage";
        command.example = {"winkhold wiring bike.toml --markdown > wiring.md"};
    }

    int run() const {
        const host::WiringSheet sheet = host::wiring_sheet_of(host::Vehicle::read(vehicle));
        format.print({.text = [&] { return host::wiring_text(sheet); },
                      .json = [&] { return host::wiring_json(sheet); },
                      .csv = [&] { return host::wiring_csv(sheet); },
                      .markdown = [&] { return host::wiring_markdown(sheet); }});
        return sheet.findings.empty() ? 0 : 1;
    }
};

} // namespace

Command wiring_command() {
    return command_of<Wiring>();
}

} // namespace winkhold::app
