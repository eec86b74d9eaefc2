#include "commands.hpp"
#include "decoder_options.hpp"
#include "format.hpp"
#include "output.hpp"
#include "work_options.hpp"

#include "winkhold/measure/soak/report.hpp"
#include "winkhold/taps/capture/recording.hpp"

#include <chrono>
#include <fmt/format.h>
#include <limits>
#include <unistd.h>

namespace winkhold::app {
namespace {

constexpr std::int64_t no_ride = -1;
constexpr std::int64_t most_flashes = 100'000'000'000; // a million shards

struct ProveSoak {
    host::SoakPlan plan;
    std::int64_t ride{no_ride};
    std::string out;
    Force force;
    Threads threads;
    DecoderOptions decoder;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "prove soak";
        command.group = Command::Group::proof;
        command.summary = "Decode a very long run over all that a bike may do; say why what went wrong";
        add_flashes(command, plan.flashes, most_flashes, "how many at least");
        add_seed(command, plan.seed);
        threads.add_to(command);
        command.text("--state", "FILE", plan.state_file,
                     "keep what is done in this file, and go on from it if it exists");
        command
            .number("--ride", ride, std::int64_t{0}, std::numeric_limits<std::int64_t>::max(),
                    "show this one ride instead")
            .shown_as_default("");
        command.text("--out", "FILE", out, "write the ride's recording to this CSV file").only_with("--ride");
        force.add_to(command);
        format.add_to(command, {Format::json});
        decoder.add_to(command);
        command.notes = "Exit code 1 if anything is unexplained, or worse than under a plain hold.";
        command.example_for = "may be killed at any moment and run again";
        command.example = {"winkhold prove soak --flashes 1e8 --seed 1 --state soak.state"};
    }

    int run() {
        plan.settings = decoder.over(core::Settings{});
        host::check_settings(plan.settings);
        plan.threads = threads.count();
        return ride == no_ride ? soak() : show_ride();
    }

    int soak() const {
        const host::SoakTally tally = host::run_soak(plan, progress());
        format.print({.text = [&] { return host::soak_text(plan, tally); },
                      .json = [&] { return host::soak_json(plan, tally); }});
        return tally.unexplained() > 0 || !tally.misses().empty() ? 1 : 0;
    }

    int show_ride() const {
        const host::SoakRun run = host::run_soak_ride(plan, ride);
        if (!out.empty()) {
            Output recording(out, force.given());
            host::write_csv(recording.stream(), run.ride.trace);
            recording.finish();
        }
        Output::print(host::soak_ride_text(plan, ride, run));
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

Command prove_soak_command() {
    return command_of<ProveSoak>();
}

} // namespace winkhold::app
