#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/worth_report.hpp"

namespace winkhold::app {
namespace {

struct Rules {
    host::WorthPlan plan;
    int threads{0};
    bool json{false};
    bool markdown{false};

    int run() {
        plan.threads = threads_or_all(threads);
        const host::WorthTable table = host::try_without(plan, progress_of("pieces"));
        Output out("-");
        out.stream() << (json       ? host::worth_json(table)
                         : markdown ? host::worth_markdown(table)
                                    : host::worth_text(table));
        out.finish();
        return 0;
    }
};

} // namespace

CLI::App* add_worth(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "worth", "What each rule of the decoder costs and gains: change one at a time");
    const auto options = std::make_shared<Rules>();
    command->add_option("--data", options->plan.data, "folder with scenarios/ and faults/ (default data)");
    command
        ->add_option("--flashes", options->plan.flashes,
                     "flashes of each kind of ride, at least (default 200000)")
        ->check(CLI::Range(std::int64_t{1}, std::int64_t{100'000'000}));
    command->add_option("--seed", options->plan.seed, "random seed of the rides (default 1)");
    command
        ->add_option("--fault-seeds", options->plan.fault_seeds,
                     "rides for each variant of a fault (default 20)")
        ->check(CLI::Range(1, 1'000'000));
    add_threads(*command, options->threads);
    CLI::Option* json = command->add_flag("--json", options->json, "write JSON (schema in the README)");
    command->add_flag("--markdown", options->markdown, "write the README's table")->excludes(json);
    command->footer("Example: the README's table\n"
                    "  winkhold worth --markdown");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
