#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/compare/rides.hpp"
#include "winkhold/host/error.hpp"
#include "winkhold/host/report/faults_report.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

constexpr host::TimeUs plain_hold_us = 840'000;

struct Faults {
    std::vector<std::string> ids;
    std::string folder{"data/faults"};
    std::uint64_t seeds{20};
    int threads{0};
    bool json{false};
    DecoderOptions decoder;

    int run(bool decoder_given) const {
        std::vector<host::NamedDecoder> decoders{{"Default decoder", {}},
                                                 {plain_name(), host::plain_hold(plain_hold_us)}};
        if (decoder_given) {
            decoders.push_back({"Decoder as given", decoder.over(core::Settings{})});
            host::check_settings(decoders.back().settings);
        }
        const host::FaultRun run = host::run_faults(host::read_faults(folder, ids), std::move(decoders),
                                                    seeds, threads_or_all(threads), progress_of("faults"));
        Output out("-");
        out.stream() << (json ? host::faults_json(run) : host::faults_text(run));
        out.finish();
        const bool falls_short = std::any_of(run.results.begin(), run.results.end(), [](const auto& of) {
            return of.front().verdict == host::Verdict::falls_short;
        });
        return falls_short ? 1 : 0;
    }

    static std::string plain_name() {
        return fmt::format("Plain fixed hold of {}", host::format_duration(plain_hold_us));
    }
};

} // namespace

CLI::App* add_faults(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand("faults", "Try a decoder on the catalogue of faults");
    const auto options = std::make_shared<Faults>();
    command->add_option("ID", options->ids, "faults to try, like F07 (default: all)");
    command->add_option("--folder", options->folder, "where the faults are (default data/faults)");
    command->add_option("--seeds", options->seeds, "rides for each variant of a fault (default 20)")
        ->check(CLI::Range(1, 1'000'000));
    add_threads(*command, options->threads);
    command->add_flag("--json", options->json, "write JSON (schema in the README)");
    options->decoder.add_to(*command);
    command->footer("Exit code 1 if the default decoder falls short anywhere.\n"
                    "Example: does a longer settle help against chatter?\n"
                    "  winkhold faults F09 --settle 12ms");
    command->callback([options, command, &run] {
        bool given = false;
        for (const CLI::Option* option : command->get_options())
            given = given || (option->get_group() == "Decoder" && option->count() > 0);
        run = [options, given] { return options->run(given); };
    });
    return command;
}

} // namespace winkhold::app
