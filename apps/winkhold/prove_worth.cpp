#include "commands.hpp"
#include "format.hpp"
#include "work_options.hpp"

#include "winkhold/measure/compare/worth_report.hpp"

namespace winkhold::app {
namespace {

struct ProveWorth {
    host::WorthPlan plan;
    Threads threads;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "prove worth";
        command.group = Command::Group::proof;
        command.summary = "What each rule of the decoder costs and gains: change one at a time";
        command.text("--data", "FOLDER", plan.data, "folder with scenarios/, faults/ and families/")
            .shown_as_default("carried along");
        add_flashes(command, plan.flashes, 100'000'000, "flashes of each kind of ride, at least");
        add_seed(command, plan.seed, "rides: ");
        add_fault_rides(command, "--fault-seeds", plan.fault_seeds);
        command.number("--family-rides", plan.family_rides, std::int64_t{1}, std::int64_t{1'000'000},
                       "rides for each variant of a family");
        threads.add_to(command);
        format.add_to(command, {Format::json, Format::markdown});
        command.example_for = "the table in bench/README.md";
        command.example = {"winkhold prove worth --markdown"};
    }

    int run() {
        plan.threads = threads.count();
        const host::WorthTable table = host::try_without(plan, progress_of("pieces"));
        format.print({.text = [&] { return host::worth_text(table); },
                      .json = [&] { return host::worth_json(table); },
                      .markdown = [&] { return host::worth_markdown(table); }});
        return 0;
    }
};

} // namespace

Command prove_worth_command() {
    return command_of<ProveWorth>();
}

} // namespace winkhold::app
