#include "commands.hpp"
#include "format.hpp"
#include "work_options.hpp"

#include "winkhold/measure/families/report.hpp"

namespace winkhold::app {
namespace {

constexpr std::int64_t most_rides = 1'000'000;

struct ProveFamilies {
    std::vector<std::string> names;
    std::string folder;
    host::FamilyPlan plan;
    Threads threads;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "prove families";
        command.group = Command::Group::proof;
        command.summary = "Hold the default decoder against a plain hold on imperfect lines";
        command.arguments_of("NAME", names, "families to try, like vibration").shown_as_default("all");
        command.text("--folder", "FOLDER", folder, "where the families are");
        command.number("--rides", plan.rides, std::int64_t{1}, most_rides, "rides of each variant");
        command.number("--mixed-rides", plan.mixed_rides, std::int64_t{0}, most_rides,
                       "rides of each mixture of two");
        add_seed(command, plan.seed);
        threads.add_to(command);
        format.add_to(command, {Format::json, Format::markdown});
        command.notes = "Exit code 1 if the default decoder misses a goal; the output lists them.";
        command.example_for = "one family, and nothing mixed";
        command.example = {"winkhold prove families vibration --rides 300 --mixed-rides 0"};
    }

    int run() {
        plan.threads = threads.count();
        host::FamilyReport report{
            .plan = plan, .run = {}, .decoders = {"default", "plain 840 ms"}, .verdict = {}};
        report.run = host::run_families(host::read_families(folder, names),
                                        {core::Settings{}, host::plain_hold(host::plain_hold_us)}, plan,
                                        progress_of("pieces"));
        report.verdict = host::judge_families(report.run, 0, 1, names.empty());
        format.print({.text = [&] { return host::families_text(report); },
                      .json = [&] { return host::families_json(report); },
                      .markdown = [&] { return host::families_markdown(report); }});
        return report.verdict.good() ? 0 : 1;
    }
};

} // namespace

Command prove_families_command() {
    return command_of<ProveFamilies>();
}

} // namespace winkhold::app
