#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/compare_report.hpp"

namespace winkhold::app {
namespace {

struct Compare {
    host::ComparePlan plan;
    int threads{0};
    bool json{false};
    bool markdown{false};

    int run() {
        plan.threads = threads_or_all(threads);
        const host::Comparison comparison = host::compare(plan, progress_of("cells"));
        Output out("-");
        out.stream() << (json       ? host::compare_json(comparison)
                         : markdown ? host::compare_markdown(comparison)
                                    : host::compare_text(comparison));
        out.finish();
        return comparison.misses.empty() ? 0 : 1;
    }
};

} // namespace

CLI::App* add_compare(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "compare", "Hold the default decoder against plainer ones and against the clairvoyant bound");
    const auto options = std::make_shared<Compare>();
    command
        ->add_option("--flashes", options->plan.flashes,
                     "flashes in each of 81 cells, at least (default 200000)")
        ->check(CLI::Range(std::int64_t{1}, std::int64_t{100'000'000}));
    command->add_option("--seed", options->plan.seed, "random seed (default 1)");
    add_threads(*command, options->threads);
    CLI::Option* json = command->add_flag("--json", options->json, "write JSON (schema in the README)");
    command->add_flag("--markdown", options->markdown, "write the README's tables")->excludes(json);
    command->footer("Exit code 1 if the default decoder misses a target.\n"
                    "Example: enough flashes to count dropouts of one in a million\n"
                    "  winkhold compare --flashes 3000000");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
