#include "commands.hpp"
#include "format.hpp"
#include "recording_options.hpp"
#include "work_options.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/bike/limits/check.hpp"
#include "winkhold/bike/limits/report.hpp"
#include "winkhold/taps/verify/case.hpp"

namespace winkhold::app {
namespace {

struct Limits {
    std::string input;
    std::string vehicle;
    std::string folder;
    std::string truth;
    std::vector<std::string> stated;
    std::uint64_t seed{1};
    std::int64_t trials{20};
    host::LimitsQuestion question;
    RecordingOptions choice;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "limits";
        command.summary = "Hold flash rate, start, hazard and lamps against published limits";
        command.argument("INPUT", input, "scenario (.toml), or a recording (CSV, VCD, ..., -)")
            .reading(Reads::either);
        command.text("--vehicle", "FILE", vehicle, "vehicle file with [vehicle] and [[lamps]]")
            .shown_as_default("the scenario")
            .reading(Reads::vehicle);
        command.text("--place", "PLACE", question.place, "where it is ridden")
            .shown_as_default("the vehicle file's, else where UN regulations hold");
        command.text("--kind", "KIND", question.kind, "kind of vehicle")
            .shown_as_default("the vehicle file's, else a motorcycle");
        command.texts("--if", "CONDITION", stated,
                      "this holds, too: normally-closed-flasher, temperature-extremes, "
                      "emergency-stop-signal, no-lamp-on-the-centre-line");
        command.text("--truth", "FILE", truth,
                     "recording: CSV (time_us,indication) of what the switch asked for and when");
        command.text("--limits-folder", "FOLDER", folder,
                     "take the limits from the .toml files of this folder, or from one file");
        add_seed(command, seed, "scenario: ");
        command.number("--trials", trials, std::int64_t{1}, std::int64_t{1'000},
                       "scenario: rides to simulate, the worst counts");
        format.add_to(command, {Format::json});
        choice.add_to(command);
        command.notes = "Exit code 1 if a limit is broken, or the recording has lost something. What is not "
                        "known is not judged, and so not passed.";
        command.example_for = "a recording, held against the limits of Switzerland";
        command.example = {"winkhold limits ride.csv --place switzerland --kind motorcycle"};
    }

    int run() const {
        const host::LimitBook book =
            folder.empty() ? host::LimitBook::carried_along() : host::LimitBook::read(folder);
        const host::Judgement judgement = input.ends_with(".toml") ? of_scenario(book) : of_recording(book);
        format.print({.text = [&] { return host::limits_text(judgement, input); },
                      .json = [&] { return host::limits_json(judgement, input); }});
        return judgement.count(host::Ruling::broken) > 0 || judgement.incomplete ? 1 : 0;
    }

    host::LimitsQuestion asked() const {
        host::LimitsQuestion full = question;
        if (!vehicle.empty()) full.vehicle = host::Vehicle::read(vehicle);
        full.stated = {stated.begin(), stated.end()};
        return full;
    }

    host::Judgement of_scenario(const host::LimitBook& book) const {
        if (!truth.empty())
            throw host::InputError("--truth: a scenario knows its rider; it belongs to a recording");
        host::LimitsQuestion full = asked();
        const host::Vehicle scenario = host::Vehicle::read(input);
        if (!full.vehicle) full.vehicle = scenario;
        return host::judge_scenario(book, full, scenario, seed, trials);
    }

    host::Judgement of_recording(const host::LimitBook& book) const {
        std::optional<host::Timeline> switched;
        if (!truth.empty()) switched = host::read_timeline_csv(truth);
        const auto source = choice.open(input);
        return host::judge_recording(book, asked(), *source, switched);
    }
};

} // namespace

Command limits_command() {
    return command_of<Limits>();
}

} // namespace winkhold::app
