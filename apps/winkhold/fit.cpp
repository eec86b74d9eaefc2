#include "commands.hpp"
#include "format.hpp"
#include "output.hpp"
#include "recording_options.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/measure/fit/report.hpp"

#include <filesystem>

namespace winkhold::app {
namespace {

struct Fit {
    std::string recording;
    std::string out_file;
    std::string name;
    bool cautious{false};
    std::string onto;
    Force force;
    RecordingOptions choice;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "fit";
        command.summary = "Learn a bike's flasher from its recording, as a scenario to sweep";
        command
            .argument("RECORDING", recording, "CSV, VCD or WAV file, recorder log, or - for standard input")
            .reading(Reads::recording);
        command.text("--out", "FILE", out_file, "scenario to write (.toml), or - for nothing else");
        command
            .text(
                "--onto", "FILE", onto,
                "vehicle file whose [flasher] and [lines] take what was learned; all else in it stays. Shows "
                "what it changes")
            .changing(Reads::vehicle);
        force.add_to(command);
        command.text("--name", "NAME", name, "the scenario's name")
            .shown_as_default("the recording's")
            .only_with("--out");
        command.flag("--cautious", cautious,
                     "scenario: draw rate and duty from their 95 % intervals, take the upper ends of jitter "
                     "and bounce");
        format.add_to(command, {Format::json});
        choice.add_to(command);
        command.example_for = "choose settings for this bike";
        command.example = {"winkhold fit ride.csv --onto bike.toml --cautious",
                           "winkhold sweep bike.toml --hold-rule paced"};
    }

    int run() const {
        if (cautious && out_file.empty() && onto.empty())
            throw host::InputError("--cautious: needs --out or --onto");
        const auto source = choice.open(recording);
        const std::string file = recording == "-" ? "standard input" : recording;
        const host::BikeFit fit = host::fit_bike(host::inspect(*source), file);
        if (!out_file.empty()) {
            const std::string title = name.empty() ? std::filesystem::path(file).stem().string() : name;
            Output::write(out_file, force.given(), host::fit_scenario(fit, title, unsure()));
            if (out_file == "-") return count_losses(*source) > 0 ? 1 : 0;
        }
        if (!onto.empty()) {
            const std::string name_alone = std::filesystem::path(file).filename().string();
            tell_edited(onto, host::edit_file(onto, host::with_source(host::fit_edits(fit, unsure()),
                                                                      "fit of " + name_alone)));
        }
        format.print({.text = [&] { return host::fit_text(fit, file); },
                      .json = [&] { return host::fit_json(fit, file); }});
        tell_caveats(recording, *source);
        return count_losses(*source) > 0 ? 1 : 0;
    }

    host::Unsure unsure() const { return cautious ? host::Unsure::cautious : host::Unsure::likeliest; }
};

} // namespace

Command fit_command() {
    return command_of<Fit>();
}

} // namespace winkhold::app
