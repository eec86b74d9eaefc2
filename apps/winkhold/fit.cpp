#include "commands.hpp"
#include "format.hpp"
#include "output.hpp"
#include "recording_options.hpp"

#include "winkhold/measure/fit/report.hpp"

#include <filesystem>

namespace winkhold::app {
namespace {

struct Fit {
    std::string recording;
    std::string out_file;
    std::string name;
    bool cautious{false};
    RecordingOptions choice;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "fit";
        command.summary = "Learn a bike's flasher from its recording, as a scenario to sweep";
        command
            .argument("RECORDING", recording, "CSV, VCD or WAV file, recorder log, or - for standard input")
            .reading(Reads::recording);
        command.text("--out", "FILE", out_file, "scenario to write (.toml), or - for nothing else");
        command.text("--name", "NAME", name, "the scenario's name")
            .shown_as_default("the recording's")
            .only_with("--out");
        command
            .flag("--cautious", cautious,
                  "scenario: draw rate and duty from their 95 % intervals, take the upper ends of jitter "
                  "and bounce")
            .only_with("--out");
        format.add_to(command, {Format::json});
        choice.add_to(command);
        command.example_for = "choose settings for this bike";
        command.example = {"winkhold fit ride.csv --out bike.toml --cautious",
                           "winkhold sweep bike.toml --hold-rule paced"};
    }

    int run() const {
        check_keeps("--out", out_file, recording, "recording");
        const auto source = choice.open(recording);
        const std::string file = recording == "-" ? "standard input" : recording;
        const host::BikeFit fit = host::fit_bike(host::inspect(*source), file);
        if (!out_file.empty()) {
            const std::string title = name.empty() ? std::filesystem::path(file).stem().string() : name;
            Output::write(
                out_file,
                host::fit_scenario(fit, title, cautious ? host::Unsure::cautious : host::Unsure::likeliest));
            if (out_file == "-") return 0;
        }
        format.print({.text = [&] { return host::fit_text(fit, file); },
                      .json = [&] { return host::fit_json(fit, file); }});
        return 0;
    }
};

} // namespace

Command fit_command() {
    return command_of<Fit>();
}

} // namespace winkhold::app
