#include "commands.hpp"
#include "format.hpp"
#include "recording_options.hpp"

#include "winkhold/taps/inspect/amplitude.hpp"
#include "winkhold/taps/inspect/report.hpp"

#include <filesystem>

namespace winkhold::app {
namespace {

struct Inspect {
    std::string recording;
    RecordingOptions choice;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "inspect";
        command.summary = "Look at a bike's taps: polarity, PWM, bounce, rhythm, settings that suit";
        command
            .argument("RECORDING", recording, "CSV, VCD or WAV file, recorder log, or - for standard input")
            .reading(Reads::recording);
        format.add_to(command, {Format::json});
        choice.add_to(command);
        command.example_for = "a recording from a lamp driver that chops, columns named a and b";
        command.example = {"winkhold inspect ride.csv --left a --right b"};
    }

    int run() const {
        const auto source = choice.open(recording);
        host::Inspection seen = host::inspect(*source);
        if (std::filesystem::is_regular_file(recording)) // a pipe can't be read again
            seen.amplitudes = host::measure_amplitudes(
                seen, [this](double volts) { return choice.open_at(recording, volts); });
        format.print({.text = [&] { return host::inspect_text(seen, recording); },
                      .json = [&] { return host::inspect_json(seen); }});
        tell_caveats(recording, *source);
        return count_losses(*source) > 0 ? 1 : 0; // what is odd about a bike is no fault of the run
    }
};

} // namespace

Command inspect_command() {
    return command_of<Inspect>();
}

} // namespace winkhold::app
