#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/report/sweep_report.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

constexpr const char* default_hold_grid = "100ms:900ms:20ms";
constexpr const char* default_guard_grid = "0ms:120ms:10ms";

struct SweepCommand {
    std::string input;
    std::int64_t trials{1'000};
    std::uint64_t seed{1};
    double target{1e-4};
    int threads{0};
    DecoderOptions decoder;
    RecordingChoice choice;
    FormatChoice format;

    int run() const {
        const bool synthetic = input.ends_with(".toml");
        if (trials < 1) throw host::InputError("--trials 0: it takes at least one trial");
        if (!(target > 0 && target < 1))
            throw host::InputError(fmt::format("--target {}: a rate between 0 and 1, like 1e-4", target));
        host::Sweep sweep;
        std::string title = input;
        if (synthetic) {
            const host::Scenario scenario = host::read_scenario(input);
            title = scenario.name;
            sweep = host::sweep_scenario(scenario, plan(scenario.decoder), progress_of("trials"));
        } else {
            const auto source = choice.open(input);
            sweep = host::sweep_recording(*source, plan(core::Settings{}));
            tell_caveats(input, *source);
        }
        Output out("-");
        out.stream() << (format.format() == host::Format::json  ? host::sweep_json(sweep)
                         : format.format() == host::Format::csv ? host::sweep_csv(sweep)
                                                                : host::sweep_text(sweep, title));
        out.finish();
        return sweep.choice.point ? 0 : 1;
    }

    /// The fixed rule sweeps the hold, the paced rule the guard under one hold.
    host::SweepPlan plan(const core::Settings& base) const {
        const std::string& hold = decoder.text("hold");
        const std::string& guard = decoder.text("guard");
        host::SweepPlan plan;
        plan.settings = decoder.over(base, true);
        if (plan.settings.rule == core::HoldRule::paced) {
            if (hold.find(':') != std::string::npos)
                throw host::InputError(
                    "under the paced rule the sweep varies --guard; give --hold one value, or "
                    "--hold-rule fixed");
            plan.grid = host::parse_grid(guard.empty() ? default_guard_grid : guard, "--guard");
        } else {
            plan.grid = host::parse_grid(hold.empty() ? default_hold_grid : hold, "--hold");
        }
        host::check_settings(plan.settings);
        plan.trials = trials;
        plan.seed = seed;
        plan.target = target;
        plan.threads = threads_or_all(threads);
        return plan;
    }
};

} // namespace

CLI::App* add_sweep(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "sweep", "Weigh hold time (or guard) against dropouts, overlap and release, and choose");
    const auto options = std::make_shared<SweepCommand>();
    command->add_option("INPUT", options->input, "scenario (.toml), or a recording (CSV, VCD, -)")
        ->required();
    command->add_option("--trials", options->trials, "rides to simulate (default 1000)");
    command->add_option("--seed", options->seed, "random seed (default 1)");
    command->add_option("--target", options->target,
                        "dropout rate that the 95 % upper bound must not exceed (default 1e-4)");
    add_threads(*command, options->threads);
    options->choice.add_to(*command);
    options->decoder.add_to(*command);
    command->get_option("--hold")->description(
        "fixed rule: from:to:step to sweep (default 100ms:900ms:20ms); "
        "paced rule: the ceiling (default 760ms)");
    command->get_option("--guard")->description("paced rule: from:to:step to sweep (default 0ms:120ms:10ms)");
    options->format.add_to(*command);
    command->footer("Example: a plain hold-off filter on the nominal bike\n"
                    "  winkhold sweep data/scenarios/nominal.toml --hold 100ms:900ms:20ms --handover off "
                    "--cut-short off");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
