#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/wiring_report.hpp"

namespace winkhold::app {
namespace {

struct Wiring {
    std::string vehicle;
    PaperChoice form;

    int run() const {
        const host::WiringSheet sheet = host::read_wiring_sheet(vehicle);
        Output out("-");
        out.stream() << form.of(sheet, host::wiring_text, host::wiring_csv, host::wiring_markdown,
                                host::wiring_json);
        out.finish();
        return sheet.findings.empty() ? 0 : 1;
    }
};

} // namespace

CLI::App* add_wiring(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "wiring", "The list of every connection, checked for doubles, fuses, overload and what is left out");
    const auto options = std::make_shared<Wiring>();
    command->add_option("VEHICLE", options->vehicle, "vehicle file with [[wires]]")->required();
    options->form.add_to(*command);
    command->footer("Exit code 1 if anything is found wrong.\n"
                    "Example: a sheet to print and hang up in the garage\n"
                    "  winkhold wiring bike.toml --markdown > wiring.md");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
