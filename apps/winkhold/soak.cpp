#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/report/soak_report.hpp"

#include <chrono>
#include <fmt/format.h>
#include <thread>
#include <unistd.h>

namespace winkhold::app {
namespace {

struct Soak {
    double flashes{1e8};
    host::SoakPlan plan;
    std::int64_t ride{-1};
    std::string out{"-"};
    int threads{0};
    bool json{false};
    DecoderOptions decoder;

    int run() {
        if (!(flashes >= 1 && flashes <= 1e12))
            throw host::InputError(fmt::format("--flashes {}: from 1 to 1e12", flashes));
        plan.flashes = static_cast<std::int64_t>(flashes);
        plan.settings = decoder.over(core::Settings{});
        host::check_settings(plan.settings);
        plan.threads =
            threads > 0 ? threads : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
        return ride >= 0 ? show_ride() : soak();
    }

    int soak() const {
        const host::SoakTally tally = host::run_soak(plan, progress());
        Output to("-");
        to.stream() << (json ? host::soak_json(plan, tally) : host::soak_text(plan, tally));
        to.finish();
        return tally.unexplained() > 0 ? 1 : 0;
    }

    int show_ride() const {
        const host::SoakRun run = host::run_soak_ride(plan, ride);
        if (out != "-") {
            Output recording(out);
            host::write_csv(recording.stream(), run.ride.trace);
            recording.finish();
        }
        Output to("-");
        to.stream() << host::soak_ride_text(plan, ride, run);
        to.finish();
        return 0;
    }

    static host::SoakProgress progress() {
        if (isatty(STDERR_FILENO) == 0) return {};
        const auto started = std::chrono::steady_clock::now();
        return [started](std::int64_t done, std::int64_t before, std::int64_t all) {
            const double s =
                std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
            const auto here = static_cast<double>(done - before);
            const std::string left =
                here > 0 ? fmt::format("{:.0f} s left", s / here * static_cast<double>(all - done)) : "";
            fmt::print(stderr, "\r\033[K{} of {} shards, {}{}", done, all, left,
                       done == all ? "\r\033[K" : "");
        };
    }
};

} // namespace

CLI::App* add_soak(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "soak",
        "Decode a very long synthetic run over everything a bike may do, and say why what went wrong");
    const auto options = std::make_shared<Soak>();
    command->add_option("--flashes", options->flashes, "how many at least (default 1e8)");
    command->add_option("--seed", options->plan.seed, "random seed (default 1)");
    command
        ->add_option("--threads", options->threads,
                     "threads (default: all cores); results never depend on it")
        ->check(CLI::Range(1, 1024));
    command->add_option("--state", options->plan.state_file,
                        "keep what is done in this file, and go on from it if it exists");
    command->add_option("--ride", options->ride, "show this one ride instead")->check(CLI::NonNegativeNumber);
    command->add_option("--out", options->out, "with --ride: write its recording to this CSV file");
    command->add_flag("--json", options->json, "write JSON (schema in the README)");
    options->decoder.add_to(*command);
    command->footer("Exit code 1 if anything is unexplained.\n"
                    "Example: may be killed at any moment and run again\n"
                    "  winkhold soak --flashes 1e8 --seed 1 --state soak.state");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
