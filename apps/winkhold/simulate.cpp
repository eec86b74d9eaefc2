#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/waveform/ride.hpp"

namespace winkhold::app {
namespace {

struct Simulate {
    std::string scenario;
    std::uint64_t seed{1};
    std::uint64_t trial{0};
    std::string out{"-"};
    std::string truth;

    int run() const {
        host::RideMaker maker(host::read_scenario(scenario));
        const host::Ride& ride = maker.make(seed, trial);
        if (!truth.empty()) {
            if (truth == out) throw host::InputError("--out and --truth name the same file");
            Output file(truth);
            host::write_truth_csv(file.stream(), ride.truth);
            file.finish();
        }
        Output file(out);
        if (out.ends_with(".vcd"))
            host::write_vcd(file.stream(), ride.trace);
        else
            host::write_csv(file.stream(), ride.trace);
        file.finish();
        return 0;
    }
};

} // namespace

CLI::App* add_simulate(CLI::App& program, Run& run) {
    CLI::App* command =
        program.add_subcommand("simulate", "Make a synthetic recording, and the truth beside it");
    const auto options = std::make_shared<Simulate>();
    command->add_option("SCENARIO", options->scenario, "TOML file: flasher, lines, rider")->required();
    command->add_option("--seed", options->seed, "random seed (default 1)");
    command->add_option("--trial", options->trial, "which of the seed's rides (default 0)");
    command->add_option("--out", options->out,
                        "recording to write, .csv or .vcd (default: CSV to standard output)");
    command->add_option("--truth", options->truth, "CSV to write what the rider asked for");
    command->footer(
        "Example: the nominal bike as a value change dump, with its truth\n"
        "  winkhold simulate data/scenarios/nominal.toml --seed 7 --out ride.vcd --truth truth.csv");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
