#include "commands.hpp"
#include "format.hpp"

#include "winkhold/bike/checklist/report.hpp"

namespace winkhold::app {
namespace {

struct Checklist {
    std::string vehicle;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "checklist";
        command.summary = "From bench to road: measurements judged, settings, versions, the way back";
        command.argument("VEHICLE", vehicle, "vehicle file; [[measured]] holds what you measured")
            .reading(Reads::vehicle);
        format.add_to(command, {Format::csv, Format::markdown, Format::json});
        command.notes = "Exit code 1 if a limit is broken, a point is not done, or the wiring has findings. "
                        "What nobody measured is open, never passed.";
        command.example_for = "a checklist to print";
        command.example = {"winkhold checklist bike.toml --markdown > checklist.md"};
    }

    int run() const {
        const host::Checklist checklist =
            host::checklist_of(host::Vehicle::read(vehicle), "winkhold " WINKHOLD_VERSION);
        format.print({.text = [&] { return host::checklist_text(checklist); },
                      .json = [&] { return host::checklist_json(checklist); },
                      .csv = [&] { return host::checklist_csv(checklist); },
                      .markdown = [&] { return host::checklist_markdown(checklist); }});
        return checklist.has_findings() ? 1 : 0;
    }
};

} // namespace

Command checklist_command() {
    return command_of<Checklist>();
}

} // namespace winkhold::app
