#include "commands.hpp"
#include "decoder_options.hpp"
#include "format.hpp"
#include "work_options.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/measure/faults/report.hpp"
#include "winkhold/measure/score/plain_hold.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

struct ProveFaults {
    std::vector<std::string> ids;
    std::string folder;
    std::uint64_t seeds{20};
    Threads threads;
    DecoderOptions decoder;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "prove faults";
        command.group = Command::Group::proof;
        command.summary = "Try a decoder on the catalogue of faults";
        command.arguments_of("ID", ids, "faults to try, like F07").shown_as_default("all");
        command.text("--folder", "FOLDER", folder, "where the faults are");
        add_fault_rides(command, "--seeds", seeds);
        threads.add_to(command);
        format.add_to(command, {Format::json});
        decoder.add_to(command);
        command.notes = "Exit code 1 if the default decoder falls short anywhere.";
        command.example_for = "does a longer settle help against chatter?";
        command.example = {"winkhold prove faults F09 --settle 12ms"};
    }

    int run() const {
        std::vector<host::NamedDecoder> decoders{
            {"Default decoder", {}},
            {fmt::format("Plain fixed hold of {}", host::format_duration(host::plain_hold_us)),
             host::plain_hold(host::plain_hold_us)}};
        if (decoder.any_given()) {
            decoders.push_back({"Decoder as given", decoder.over(core::Settings{})});
            host::check_settings(decoders.back().settings);
        }
        const host::FaultRun run = host::run_faults(host::read_faults(folder, ids), std::move(decoders),
                                                    seeds, threads.count(), progress_of("faults"));
        format.print(
            {.text = [&] { return host::faults_text(run); }, .json = [&] { return host::faults_json(run); }});
        const bool falls_short = std::any_of(run.results.begin(), run.results.end(), [](const auto& of) {
            return of.front().verdict == host::FaultVerdict::falls_short;
        });
        return falls_short ? 1 : 0;
    }
};

} // namespace

Command prove_faults_command() {
    return command_of<ProveFaults>();
}

} // namespace winkhold::app
