#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/report/faults_report.hpp"

#include <fmt/format.h>
#include <thread>

namespace winkhold::app {
namespace {

constexpr const char* plain_hold = "840ms";

struct Faults {
    std::vector<std::string> ids;
    std::string folder{"data/faults"};
    std::uint64_t seeds{20};
    int threads{0};
    bool json{false};
    DecoderOptions decoder;

    int run(bool decoder_given) const {
        std::vector<host::NamedDecoder> decoders{{"Default decoder", {}}, {plain_name(), plain()}};
        if (decoder_given) {
            decoders.push_back({"Decoder as given", decoder.over(core::Settings{})});
            host::check_settings(decoders.back().settings);
        }
        const int workers =
            threads > 0 ? threads : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
        const host::FaultRun run =
            host::run_faults(host::read_faults(folder, ids), std::move(decoders), seeds, workers);
        Output out("-");
        out.stream() << (json ? host::faults_json(run) : host::faults_text(run));
        out.finish();
        const bool falls_short = std::any_of(run.results.begin(), run.results.end(), [](const auto& of) {
            return of.front().verdict == host::Verdict::falls_short;
        });
        return falls_short ? 1 : 0;
    }

    static std::string plain_name() {
        return fmt::format("Plain fixed hold of {}",
                           host::format_duration(host::parse_duration_us(plain_hold, "hold")));
    }

    /// What a hold-off filter does, for comparison.
    static core::Settings plain() {
        core::Settings settings;
        settings.rule = core::HoldRule::fixed;
        settings.hold_us = static_cast<std::uint32_t>(host::parse_duration_us(plain_hold, "hold"));
        settings.handover_us = 0;
        settings.cut_short = false;
        return settings;
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
    command
        ->add_option("--threads", options->threads,
                     "threads (default: all cores); results never depend on it")
        ->check(CLI::Range(1, 1024));
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
