#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/report/rules_report.hpp"
#include "winkhold/host/rules/check.hpp"
#include "winkhold/host/verify/case.hpp"

namespace winkhold::app {
namespace {

struct Rules {
    std::string input;
    std::string folder;
    std::string truth;
    std::vector<std::string> stated;
    std::uint64_t seed{1};
    std::int64_t trials{20};
    bool json{false};
    host::RulesQuestion question;
    RecordingChoice choice;

    int run() const {
        const host::RuleBook book =
            folder.empty() ? host::RuleBook::carried_along() : host::RuleBook::read(folder);
        const host::Judgement judgement = input.ends_with(".toml") ? of_scenario(book) : of_recording(book);
        Output out("-");
        out.stream() << (json ? host::rules_json(judgement, input) : host::rules_text(judgement, input));
        out.finish();
        return judgement.count(host::Ruling::broken) > 0 || judgement.incomplete ? 1 : 0;
    }

    host::RulesQuestion asked() const {
        host::RulesQuestion full = question;
        full.stated = {stated.begin(), stated.end()};
        return full;
    }

    host::Judgement of_scenario(const host::RuleBook& book) const {
        if (!truth.empty())
            throw host::InputError("--truth: a scenario knows its rider; it belongs to a recording");
        host::RulesQuestion full = asked();
        if (full.vehicle_file.empty()) full.vehicle_file = input;
        return host::judge_scenario(book, full, host::read_scenario(input), seed, trials);
    }

    host::Judgement of_recording(const host::RuleBook& book) const {
        std::optional<host::Timeline> switched;
        if (!truth.empty()) switched = host::read_timeline_csv(truth);
        const auto source = choice.open(input);
        return host::judge_recording(book, asked(), *source, switched);
    }
};

} // namespace

CLI::App* add_rules(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand("rules", "Hold flash rate, start, hazard and lamps against "
                                                        "published limits");
    const auto options = std::make_shared<Rules>();
    command->add_option("INPUT", options->input, "scenario (.toml), or a recording (CSV, VCD, ..., -)")
        ->required();
    command->add_option("--vehicle", options->question.vehicle_file,
                        "vehicle file with [vehicle] and [[lamps]] (default: the scenario)");
    command->add_option("--place", options->question.place,
                        "where it is ridden (default: what the vehicle file says, else un-ece)");
    command->add_option("--kind", options->question.kind,
                        "kind of vehicle (default: what the vehicle file says, else motorcycle)");
    command->add_option("--if", options->stated,
                        "this holds, too: normally-closed-flasher, temperature-extremes,\n"
                        "emergency-stop-signal");
    command->add_option("--truth", options->truth,
                        "recording: CSV (time_us,indication) of what the switch asked for and when");
    command->add_option("--rules-folder", options->folder,
                        "take the limits from the .toml files of this folder, or from one file");
    command->add_option("--seed", options->seed, "scenario: random seed (default 1)");
    command
        ->add_option("--trials", options->trials,
                     "scenario: rides to simulate, the worst counts "
                     "(default 20)")
        ->check(CLI::Range(1, 1'000));
    command->add_flag("--json", options->json, "write JSON (schema in the README)");
    options->choice.add_to(*command);
    command->footer("Exit code 1 if a limit is broken, or the recording has lost something. What is not "
                    "known is not judged, and so not passed.\n"
                    "Example: a recording, held against the rules of Switzerland\n"
                    "  winkhold rules ride.csv --place switzerland --kind motorcycle");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
