#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/smoother_report.hpp"

#include <iostream>

namespace winkhold::app {
namespace {

struct Decode {
    std::string recording;
    DecoderOptions decoder;
    RecordingChoice choice;
    FormatChoice format;
    bool hindsight{false};

    int run() const {
        const core::Settings settings = decoder.over(core::Settings{});
        host::check_settings(settings);
        const auto source = choice.open(recording);
        Output out("-");
        std::size_t disagreements = 0;
        if (hindsight)
            disagreements = host::write_decoded_with_hindsight(out.stream(), *source, settings,
                                                               format.format(), recording);
        else
            host::write_decoded(out.stream(), *source, settings, format.format(), recording);
        out.finish();
        return disagreements > 0 ? 1 : 0; // faults are findings about the bike, not about the run
    }
};

} // namespace

CLI::App* add_decode(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand("decode", "Decode a recording into a steady indication");
    const auto options = std::make_shared<Decode>();
    command->add_option("RECORDING", options->recording, "CSV or VCD file, or - for standard input")
        ->required();
    options->choice.add_to(*command);
    options->decoder.add_to(*command);
    options->format.add_to(*command);
    command->add_flag("--hindsight", options->hindsight,
                      "also answer as somebody who knows the whole recording would, and list where the\n"
                      "decoder differs by more than it must; exit 1 if it does. Keeps the whole\n"
                      "recording in memory, as settled edges");
    command->footer("Example: two columns named blinker_l and blinker_r, in volts\n"
                    "  winkhold decode ride.csv --left blinker_l --right blinker_r --on-above 6V");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
