#include "commands.hpp"
#include "decoder_options.hpp"
#include "format.hpp"
#include "output.hpp"
#include "recording_options.hpp"
#include "work_options.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/measure/sweep/report.hpp"

#include <filesystem>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

constexpr const char* default_hold_grid = "100ms:900ms:20ms";
constexpr const char* default_guard_grid = "0ms:120ms:10ms";

struct SweepCommand {
    std::string input;
    std::int64_t trials{host::SweepPlan{}.trials};
    std::uint64_t seed{host::SweepPlan{}.seed};
    double target{host::SweepPlan{}.target};
    std::string onto;
    Threads threads;
    DecoderOptions decoder;
    RecordingOptions choice;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "sweep";
        command.summary = "Weigh hold time (or guard) against dropouts, overlap and release; choose";
        command.argument("INPUT", input, "scenario (.toml), or a recording (CSV, VCD, -)")
            .reading(Reads::either);
        command.number("--trials", trials, std::int64_t{1}, std::int64_t{1'000'000'000},
                       "scenario: rides to simulate");
        add_seed(command, seed, "scenario: ");
        command.number("--target", target, 0.0, 1.0,
                       "dropout rate that the 95 % upper bound must not exceed");
        command
            .text(
                "--onto", "FILE", onto,
                "vehicle file whose [decoder] takes the choice; all else in it stays. Shows what it changes")
            .changing(Reads::vehicle);
        threads.add_to(command);
        format.add_to(command, {Format::json, Format::csv});
        choice.add_to(command);
        decoder.add_to(command);
        describe_grids(command);
        command.notes = "Exit code 1 if no value meets the target.";
        command.example_for = "a plain hold-off filter on the nominal bike";
        command.example = {fmt::format("winkhold sweep data/scenarios/nominal.toml --hold {} --handover off "
                                       "--cut-short off",
                                       default_hold_grid)};
    }

    /// Two of the decoder's settings are what is swept.
    static void describe_grids(Command& command) {
        Option& hold = command.option("--hold");
        hold.help = fmt::format("fixed rule: from:to:step to sweep (default: {}); paced rule: the longest "
                                "dark gap bridged",
                                default_hold_grid);
        hold.value = "GRID";
        Option& guard = command.option("--guard");
        guard.help = "paced rule: from:to:step to sweep";
        guard.value = "GRID";
        guard.initial = default_guard_grid;
    }

    int run() const {
        if (!(target > 0 && target < 1))
            throw host::InputError(fmt::format("--target {}: a rate between 0 and 1, like 1e-4", target));
        host::Sweep sweep;
        std::size_t losses = 0;
        std::string title = input;
        if (input.ends_with(".toml")) {
            const host::Vehicle vehicle = host::Vehicle::read(input);
            const host::Scenario scenario = host::scenario_of(vehicle);
            title = scenario.name;
            sweep = host::sweep_scenario(scenario, plan(scenario.decoder), progress_of("trials"));
            sweep.still_example = host::still_example(vehicle);
        } else {
            const auto source = choice.open(input);
            sweep = host::sweep_recording(*source, plan(core::Settings{}));
            tell_caveats(input, *source);
            losses = count_losses(*source);
        }
        format.tell_beside_csv(sweep.still_example.notice);
        format.print({.text = [&] { return host::sweep_text(sweep, title); },
                      .json = [&] { return host::sweep_json(sweep); },
                      .csv = [&] { return host::sweep_csv(sweep); }});
        if (!onto.empty()) {
            const core::Settings before = host::decoder_settings(host::Vehicle::read(onto), core::Settings{});
            if (sweep.choice.point)
                tell_edited(onto, host::edit_file(
                                      onto, host::with_source(host::choice_edits(sweep, before), what())));
            else
                fmt::print(stderr, "{}: nothing to choose, so it stays as it is\n", onto);
        }
        return sweep.choice.point && losses == 0 ? 0 : 1;
    }

    /// Where the choice comes from, for the file that takes it.
    std::string what() const {
        const std::string name =
            input == "-" ? "standard input" : std::filesystem::path(input).filename().string();
        return input.ends_with(".toml") ? fmt::format("sweep of {}, {} rides, seed {}", name, trials, seed)
                                        : "sweep of " + name;
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
        plan.threads = threads.count();
        return plan;
    }
};

} // namespace

Command sweep_command() {
    return command_of<SweepCommand>();
}

} // namespace winkhold::app
