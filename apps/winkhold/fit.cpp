#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/fit_report.hpp"

#include <filesystem>

namespace winkhold::app {
namespace {

struct Fit {
    std::string recording;
    std::string out_file;
    std::string name;
    bool cautious{false};
    bool json{false};
    RecordingChoice choice;

    int run() const {
        const auto source = choice.open(recording);
        const std::string file = recording == "-" ? "standard input" : recording;
        const host::BikeFit fit = host::fit_bike(host::inspect(*source), file);
        if (!out_file.empty()) {
            const std::string title = name.empty() ? std::filesystem::path(file).stem().string() : name;
            Output scenario(out_file);
            scenario.stream() << host::fit_scenario(
                fit, title, cautious ? host::Unsure::cautious : host::Unsure::likeliest);
            scenario.finish();
            if (out_file == "-") return 0;
        }
        Output out("-");
        out.stream() << (json ? host::fit_json(fit, file) : host::fit_text(fit, file));
        out.finish();
        return 0;
    }
};

} // namespace

CLI::App* add_fit(CLI::App& program, Run& run) {
    CLI::App* command =
        program.add_subcommand("fit", "Learn a bike's flasher from its recording, as a scenario to sweep");
    const auto options = std::make_shared<Fit>();
    command->add_option("RECORDING", options->recording, "CSV or VCD file, or - for standard input")
        ->required();
    CLI::Option* out =
        command->add_option("--out", options->out_file, "scenario to write (.toml), or - for nothing else");
    command->add_option("--name", options->name, "the scenario's name (default: the recording's)")
        ->needs(out);
    command
        ->add_flag("--cautious", options->cautious,
                   "scenario: draw rate and duty from their 95 % intervals, take the\n"
                   "upper ends of jitter and bounce")
        ->needs(out);
    command->add_flag("--json", options->json, "write JSON (schema in the README)");
    options->choice.add_to(*command);
    command->footer("Example: choose settings for this bike\n"
                    "  winkhold fit ride.csv --out bike.toml --cautious\n"
                    "  winkhold sweep bike.toml --hold-rule paced");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
