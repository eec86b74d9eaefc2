#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/inspect/amplitude.hpp"
#include "winkhold/host/report/inspect_report.hpp"

#include <filesystem>

namespace winkhold::app {
namespace {

struct Inspect {
    std::string recording;
    RecordingChoice choice;
    bool json{false};

    int run() const {
        const auto source = choice.open(recording);
        host::Inspection seen = host::inspect(*source);
        if (std::filesystem::is_regular_file(recording)) // a pipe can't be read again
            seen.amplitudes = host::measure_amplitudes(
                seen, [this](double volts) { return choice.open_at(recording, volts); });
        Output out("-");
        out.stream() << (json ? host::inspect_json(seen) : host::inspect_text(seen, recording));
        out.finish();
        return 0; // what is odd about a bike is no fault of the run
    }
};

} // namespace

CLI::App* add_inspect(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand(
        "inspect", "What do these taps look like? Polarity, PWM, bounce, rhythm, and settings that suit");
    const auto options = std::make_shared<Inspect>();
    command->add_option("RECORDING", options->recording, "CSV or VCD file, or - for standard input")
        ->required();
    options->choice.add_to(*command);
    command->add_flag("--json", options->json, "write JSON (schema in the README)");
    command->footer("Example: a recording from a lamp driver that chops, columns named a and b\n"
                    "  winkhold inspect ride.csv --left a --right b");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
