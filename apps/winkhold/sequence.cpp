#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/report/sequence_report.hpp"
#include "winkhold/host/waveform/ride.hpp"

#include <cstdlib>
#include <fmt/format.h>
#include <string_view>
#include <unistd.h>

namespace winkhold::app {
namespace {

bool stdout_has_colour() {
    const char* const terminal = std::getenv("TERM");
    return isatty(STDOUT_FILENO) != 0 && std::getenv("NO_COLOR") == nullptr && terminal != nullptr &&
           std::string_view(terminal) != "dumb";
}

struct Sequence {
    std::string input;
    std::string vehicle;
    std::uint64_t seed{1};
    std::uint64_t trial{0};
    std::string from;
    std::string length;
    std::string out_file;
    DecoderOptions decoder;
    RecordingChoice choice;
    FormatChoice format;

    bool is_scenario() const { return input.ends_with(".toml"); }

    int run() const {
        const host::LampPlan plan = lamp_plan();
        core::Settings settings;
        std::string title = input;
        std::unique_ptr<host::EdgeSource> source;
        if (is_scenario()) {
            const host::Scenario scenario = host::read_scenario(input);
            settings = scenario.decoder;
            title = scenario.name;
            source = std::make_unique<host::TraceSource>(host::RideMaker(scenario).make(seed, trial).trace);
        } else {
            if (!vehicle.empty()) settings = host::read_vehicle_settings(vehicle, settings);
            source = choice.open(input);
        }
        settings = decoder.over(settings);
        host::check_settings(settings);
        if (out_file.empty()) return report(*source, settings, plan, title);
        check_out_file(out_file, input, {".vcd"});
        Output file(out_file);
        const int code =
            report(*host::write_lamp_vcd(*source, settings, plan, file.stream()), settings, plan, title);
        file.finish();
        return code;
    }

    int report(host::EdgeSource& source, const core::Settings& settings, const host::LampPlan& plan,
               const std::string& title) const {
        Output out("-");
        std::int64_t findings =
            host::write_sequence(out.stream(), source, settings, plan, format.format(), close_up(), title);
        out.finish();
        for (const host::Caveat& caveat : source.caveats())
            findings += caveat.is_incomplete ? 1 : 0;
        return findings > 0 ? 1 : 0;
    }

    host::LampPlan lamp_plan() const {
        if (!vehicle.empty()) {
            host::LampPlan plan = host::read_lamp_plan(vehicle);
            if (plan.lamps.empty())
                throw host::InputError(fmt::format(
                    "{}: no [[lamps]]; data/vehicles/demo.toml shows how to write them", vehicle));
            return plan;
        }
        host::LampPlan plan = is_scenario() ? host::read_lamp_plan(input) : host::LampPlan{};
        return plan.lamps.empty() ? host::demo_lamp_plan() : plan;
    }

    host::CloseUp close_up() const {
        host::CloseUp close_up;
        close_up.colour = stdout_has_colour();
        if (!from.empty()) close_up.from_us = host::parse_duration_us(from, "--from");
        if (!length.empty()) close_up.for_us = host::parse_duration_us(length, "--for");
        return close_up;
    }
};

} // namespace

CLI::App* add_sequence(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand("sequence", "Play lamps on a scenario or a recording");
    const auto options = std::make_shared<Sequence>();
    command
        ->add_option("INPUT", options->input,
                     "scenario (.toml), or a recording (CSV, VCD, WAV, recorder log, -)")
        ->required();
    command->add_option("--vehicle", options->vehicle,
                        "TOML file with the lamps, and for a recording the decoder's settings\n"
                        "(default: the scenario; without lamps, the demo vehicle's)");
    command->add_option("--seed", options->seed, "scenario: random seed (default 1)");
    command->add_option("--trial", options->trial, "scenario: which of the seed's rides (default 0)");
    command->add_option("--from", options->from,
                        "draw lamp by lamp from here on (default: shortly before the first flash)");
    command->add_option("--for", options->length, "and so long (default 990ms)");
    command->add_option("--out", options->out_file,
                        "also write a value change dump (.vcd) with one signal a lamp");
    options->choice.add_to(*command);
    options->decoder.add_to(*command);
    options->format.add_to(*command);
    command->footer("Example: a ride on the demo vehicle, and every lamp for a waveform viewer\n"
                    "  winkhold sequence data/vehicles/demo.toml --out lamps.vcd");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
