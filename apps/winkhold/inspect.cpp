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
            seen.amplitudes = amplitudes(seen);
        format.print({.text = [&] { return host::inspect_text(seen, recording); },
                      .json = [&] { return host::inspect_json(seen); }});
        tell_caveats(recording, *source);
        return count_losses(*source) > 0 ? 1 : 0; // what is odd about a bike is no fault of the run
    }

    /// From a second reading, which ends soon if there are no volts.
    std::optional<host::Amplitudes> amplitudes(const host::Inspection& seen) const {
        host::AmplitudeMeter meter(seen);
        bool any = false;
        const auto source =
            choice.open_hearing(recording, [&](host::TimeUs t_us, core::Lines::Tap tap, double volts) {
                if (tap != core::Lines::left && tap != core::Lines::right) return;
                meter.volts(t_us, tap == core::Lines::left ? core::Side::left : core::Side::right, volts);
                any = true;
            });
        constexpr int soon = 100; // edges: a dump need not begin with the value of each signal
        host::Edge edge;
        for (int edges = 0; source->next(edge) && (any || edges < soon);)
            ++edges;
        return any ? meter.finish(source->end_us()) : std::nullopt;
    }
};

} // namespace

Command inspect_command() {
    return command_of<Inspect>();
}

} // namespace winkhold::app
