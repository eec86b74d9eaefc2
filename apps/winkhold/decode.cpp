#include "commands.hpp"
#include "decoder_options.hpp"
#include "format.hpp"
#include "output.hpp"
#include "recording_options.hpp"

#include "winkhold/measure/score/beside.hpp"
#include "winkhold/taps/decode/decoded_file.hpp"
#include "winkhold/taps/hindsight/report.hpp"
#include "winkhold/taps/inspect/hints.hpp"

#include <iostream>

namespace winkhold::app {
namespace {

struct Decode {
    std::string recording;
    DecoderOptions decoder;
    RecordingOptions choice;
    FormatChoice format;
    bool hindsight{false};
    std::vector<std::string> beside;
    std::string from;
    std::string length;
    std::string out_file;
    Force force;

    void declare(Command& command) {
        command.name = "decode";
        command.summary = "Decode a recording into a steady indication";
        command
            .argument(
                "RECORDING", recording,
                "CSV, VCD or WAV file, recorder log, raw samples (with --rate), or - for standard input")
            .reading(Reads::recording);
        format.add_to(command, {Format::json, Format::csv});
        command.flag("--hindsight", hindsight,
                     "also answer as somebody who knows the whole recording would, and list where the "
                     "decoder differs by more than it must; exit 1 if it does. Keeps the whole recording in "
                     "memory, as settled edges");
        command
            .texts("--beside", "HOLD", beside,
                   "draw one stretch as plain holds of so long show it, and as the decoder does, and say "
                   "what each "
                   "costs. Keeps the whole recording in memory")
            .excludes = {"--json", "--csv", "--hindsight"};
        command.text("--from", "TIME", from, "draw from here on")
            .shown_as_default("around the first side change")
            .only_with("--beside");
        command.text("--for", "TIME", length, "and so long").shown_as_default("2.97s").only_with("--beside");
        command.text("--out", "FILE", out_file,
                     "also write lines, settled lines, answer and faults as a value change dump (.vcd, for "
                     "any waveform viewer) or as CSV (.csv)");
        force.add_to(command);
        choice.add_to(command);
        decoder.add_to(command);
        command.example_for = "two columns named blinker_l and blinker_r, in volts";
        command.example = {"winkhold decode ride.csv --left blinker_l --right blinker_r --on-above 6V"};
    }

    int run() const {
        const core::Settings settings = decoder.over(core::Settings{});
        host::check_settings(settings);
        const auto opened = choice.open(recording);
        host::InspectedSource source(*opened);
        const int code = write(source, settings);
        for (const std::string& hint : source.hints(settings))
            std::cerr << host::hint_text(recording, hint);
        return code;
    }

    int write(host::EdgeSource& source, const core::Settings& settings) const {
        if (out_file.empty()) return report(source, settings);
        check_ending("--out", out_file, {".vcd", ".csv"});
        Output file(out_file, force.given());
        const auto written = out_file.ends_with(".vcd") ? host::DecodedFormat::vcd : host::DecodedFormat::csv;
        const int code =
            report(*host::write_decoded_file(source, settings, written, file.stream()), settings);
        file.finish();
        return code;
    }

    int report(host::EdgeSource& source, const core::Settings& settings) const {
        Output out = output_beside(recording);
        std::size_t findings = 0; // faults are findings about the bike, not about the run
        if (!beside.empty())
            out.stream() << host::beside_text(host::decode_beside(source, settings, beside_plan()),
                                              recording);
        else if (hindsight)
            findings = host::write_decoded_with_hindsight(out.stream(), source, settings, format.streamed(),
                                                          recording);
        else
            host::write_decoded(out.stream(), source, settings, format.streamed(), recording);
        out.finish();
        return findings + count_losses(source) > 0 ? 1 : 0;
    }

    host::BesidePlan beside_plan() const {
        host::BesidePlan plan;
        for (const std::string& hold : beside)
            plan.holds_us.push_back(host::parse_duration_us(hold, "--beside"));
        if (!from.empty()) plan.from_us = host::parse_duration_us(from, "--from");
        if (!length.empty()) plan.for_us = host::parse_duration_us(length, "--for");
        return plan;
    }
};

} // namespace

Command decode_command() {
    return command_of<Decode>();
}

} // namespace winkhold::app
