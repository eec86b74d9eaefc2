#include "commands.hpp"
#include "format.hpp"
#include "work_options.hpp"

#include "winkhold/measure/compare/report.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

struct ProveCompare {
    host::ComparePlan plan;
    Threads threads;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "prove compare";
        command.group = Command::Group::proof;
        command.summary = "Hold the default decoder against plainer ones and the clairvoyant bound";
        add_flashes(command, plan.flashes, 100'000'000,
                    fmt::format("flashes in each of {} cells, at least", host::all_cells().size()));
        add_seed(command, plan.seed);
        threads.add_to(command);
        format.add_to(command, {Format::json, Format::markdown});
        command.notes = "Exit code 1 if the default decoder misses a target.";
        command.example_for = "enough flashes to count dropouts of one in a million";
        command.example = {"winkhold prove compare --flashes 3000000"};
    }

    int run() {
        plan.threads = threads.count();
        const host::Comparison comparison = host::compare(plan, progress_of("cells"));
        format.print({.text = [&] { return host::compare_text(comparison); },
                      .json = [&] { return host::compare_json(comparison); },
                      .markdown = [&] { return host::compare_markdown(comparison); }});
        return comparison.misses.empty() ? 0 : 1;
    }
};

} // namespace

Command prove_compare_command() {
    return command_of<ProveCompare>();
}

} // namespace winkhold::app
