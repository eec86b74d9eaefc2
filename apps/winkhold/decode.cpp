#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/report/decoded_file.hpp"
#include "winkhold/host/report/smoother_report.hpp"

namespace winkhold::app {
namespace {

struct Decode {
    std::string recording;
    DecoderOptions decoder;
    RecordingChoice choice;
    FormatChoice format;
    bool hindsight{false};
    std::string out_file;

    int run() const {
        const core::Settings settings = decoder.over(core::Settings{});
        host::check_settings(settings);
        const auto source = choice.open(recording);
        if (out_file.empty()) return report(*source, settings);
        check_out_file(out_file, recording, {".vcd", ".csv"});
        Output file(out_file);
        const auto format = out_file.ends_with(".vcd") ? host::DecodedFormat::vcd : host::DecodedFormat::csv;
        const int code =
            report(*host::write_decoded_file(*source, settings, format, file.stream()), settings);
        file.finish();
        return code;
    }

    int report(host::EdgeSource& source, const core::Settings& settings) const {
        Output out("-");
        std::size_t findings = 0; // faults are findings about the bike, not about the run
        if (hindsight)
            findings = host::write_decoded_with_hindsight(out.stream(), source, settings, format.format(),
                                                          recording);
        else
            host::write_decoded(out.stream(), source, settings, format.format(), recording);
        out.finish();
        for (const host::Caveat& caveat : source.caveats())
            findings += caveat.is_incomplete ? 1 : 0;
        return findings > 0 ? 1 : 0;
    }
};

} // namespace

CLI::App* add_decode(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand("decode", "Decode a recording into a steady indication");
    const auto options = std::make_shared<Decode>();
    command
        ->add_option(
            "RECORDING", options->recording,
            "CSV, VCD or WAV file, recorder log, raw samples (with --rate), or - for\nstandard input")
        ->required();
    options->choice.add_to(*command);
    options->decoder.add_to(*command);
    options->format.add_to(*command);
    command->add_flag("--hindsight", options->hindsight,
                      "also answer as somebody who knows the whole recording would, and list where the\n"
                      "decoder differs by more than it must; exit 1 if it does. Keeps the whole\n"
                      "recording in memory, as settled edges");
    command->add_option("--out", options->out_file,
                        "also write lines, settled lines, answer and faults as a value change dump\n"
                        "(.vcd, for any waveform viewer) or as CSV (.csv)");
    command->footer("Example: two columns named blinker_l and blinker_r, in volts\n"
                    "  winkhold decode ride.csv --left blinker_l --right blinker_r --on-above 6V");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
