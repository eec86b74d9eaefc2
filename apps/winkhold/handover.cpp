#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/handover_report.hpp"

namespace winkhold::app {
namespace {

struct Handover {
    std::string vehicle;
    PaperChoice form;

    int run() const {
        const host::Handover handover = host::read_handover(vehicle, "winkhold " WINKHOLD_VERSION);
        Output out("-");
        out.stream() << form.of(handover, host::handover_text, host::handover_csv, host::handover_markdown,
                                host::handover_json);
        out.finish();
        return handover.has_findings() ? 1 : 0;
    }
};

} // namespace

CLI::App* add_handover(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "handover", "Checklist from bench to road, measurements judged, settings, versions, the way back");
    const auto options = std::make_shared<Handover>();
    command->add_option("VEHICLE", options->vehicle, "vehicle file; [[measured]] holds what you measured")
        ->required();
    options->form.add_to(*command);
    command->footer("Exit code 1 if a limit is broken, a point is not done, or the wiring has findings.\n"
                    "What nobody measured is open, never passed.\n"
                    "Example: a checklist to print\n"
                    "  winkhold handover bike.toml --markdown > handover.md");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
