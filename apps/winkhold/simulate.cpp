#include "commands.hpp"
#include "output.hpp"
#include "work_options.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/measure/waveform/ride.hpp"
#include "winkhold/taps/capture/recording.hpp"

#include <fmt/format.h>
#include <optional>

namespace winkhold::app {
namespace {

struct Simulate {
    std::string scenario;
    std::uint64_t seed{1};
    std::uint64_t trial{0};
    std::string out{"-"};
    std::string truth;
    Force force;

    void declare(Command& command) {
        command.name = "simulate";
        command.summary = "Make a synthetic recording, and the truth beside it";
        command.argument("SCENARIO", scenario, "TOML file: flasher, lines, rider").reading(Reads::vehicle);
        add_seed(command, seed);
        add_trial(command, trial);
        command.text("--out", "FILE", out, "recording to write, .csv or .vcd")
            .shown_as_default("CSV to standard output");
        command.text("--truth", "FILE", truth, "CSV to write what the rider asked for");
        force.add_to(command);
        command.example_for = "the nominal bike as a value change dump, with its truth";
        command.example = {"winkhold simulate data/scenarios/nominal.toml --seed 7 --out ride.vcd "
                           "--truth truth.csv"};
    }

    int run() const {
        const host::Vehicle vehicle = host::Vehicle::read(scenario);
        host::RideMaker maker(host::scenario_of(vehicle));
        const host::Ride& ride = maker.make(seed, trial);
        if (truth == out) throw host::InputError("--out and --truth name the same file");
        std::optional<Output> true_answer;
        if (!truth.empty()) {
            true_answer.emplace(truth, force.given());
            host::write_truth_csv(true_answer->stream(), ride.truth);
        }
        Output file(out, force.given());
        if (out.ends_with(".vcd"))
            host::write_vcd(file.stream(), ride.trace);
        else
            host::write_csv(file.stream(), ride.trace);
        file.finish();
        if (true_answer) true_answer->finish();
        if (out != "-")
            fmt::print(stderr, "{}: {} edges of {:.1f} s{}\n", out, ride.trace.edges.size(),
                       static_cast<double>(ride.trace.end_us) / 1e6,
                       truth.empty() ? "" : fmt::format("; {}: what the rider asked for", truth));
        if (const std::string notice = host::example_notice(vehicle); !notice.empty())
            fmt::print(stderr, "{}\n", notice);
        return 0;
    }
};

} // namespace

Command simulate_command() {
    return command_of<Simulate>();
}

} // namespace winkhold::app
