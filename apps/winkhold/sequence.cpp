#include "commands.hpp"
#include "decoder_options.hpp"
#include "format.hpp"
#include "output.hpp"
#include "recording_options.hpp"
#include "work_options.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/bike/lamps/sequence_report.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <cstdlib>
#include <fmt/format.h>
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
    std::vector<std::string> groups;
    std::uint64_t seed{1};
    std::uint64_t trial{0};
    std::string from;
    std::string length;
    std::string out_file;
    Force force;
    DecoderOptions decoder;
    RecordingOptions choice;
    FormatChoice format;

    void declare(Command& command) {
        command.name = "sequence";
        command.summary = "Play lamps on a scenario or a recording";
        command.argument("INPUT", input, "scenario (.toml), or a recording (CSV, VCD, WAV, recorder log, -)")
            .reading(Reads::either);
        command
            .text("--vehicle", "FILE", vehicle,
                  "TOML file with the lamps, and for a recording the decoder's settings")
            .shown_as_default("the scenario; without lamps, the demo vehicle's")
            .reading(Reads::vehicle);
        command.texts("--group", "NAME", groups, "play only these groups of lamps");
        add_seed(command, seed, "scenario: ");
        add_trial(command, trial, "scenario: ");
        command.text("--from", "TIME", from, "draw lamp by lamp from here on")
            .shown_as_default("shortly before the first flash");
        command.text("--for", "TIME", length, "and so long").shown_as_default("two flashes or so");
        command.text("--out", "FILE", out_file,
                     "also write a value change dump (.vcd) with one signal a lamp");
        force.add_to(command);
        format.add_to(command, {Format::json, Format::csv});
        choice.add_to(command);
        decoder.add_to(command);
        command.notes =
            "Exit code 1 if a lamp stayed dark in a flash that nobody cancelled, or the recording "
            "has lost something.";
        command.example_for = "a ride on the demo vehicle, every lamp for a waveform viewer";
        command.example = {"winkhold sequence data/vehicles/demo.toml --out lamps.vcd"};
    }

    int run() const {
        std::optional<host::Vehicle> rides;
        if (input.ends_with(".toml")) rides = host::Vehicle::read(input);
        std::optional<host::Vehicle> lit = rides;
        if (!vehicle.empty()) lit = host::Vehicle::read(vehicle);
        host::LampPlan plan = lamp_plan(lit).only(groups);
        core::Settings settings;
        std::string title = input;
        std::unique_ptr<host::EdgeSource> source;
        if (rides) {
            const host::Scenario scenario = host::scenario_or_demo_ride(*rides);
            if (plan.still_example.sections.empty()) plan.still_example = host::still_example(*rides);
            if (!rides->has("rider"))
                fmt::print(stderr, "{}: no [rider]; the lamps play on the demo's ride\n", input);
            settings = scenario.decoder;
            title = scenario.name;
            source = std::make_unique<host::TraceSource>(host::RideMaker(scenario).make(seed, trial).trace);
        } else {
            if (lit) settings = host::decoder_settings(*lit, settings);
            source = choice.open(input);
        }
        settings = decoder.over(settings);
        host::check_settings(settings);
        format.tell_beside_csv(plan.still_example.notice);
        for (const std::string& warning : plan.warnings)
            format.tell_beside_csv(warning);
        if (out_file.empty()) return report(*source, settings, plan, title);
        check_ending("--out", out_file, {".vcd"});
        Output file(out_file, force.given());
        const int code =
            report(*host::write_lamp_vcd(*source, settings, plan, file.stream()), settings, plan, title);
        file.finish();
        return code;
    }

    int report(host::EdgeSource& source, const core::Settings& settings, const host::LampPlan& plan,
               const std::string& title) const {
        Output out = output_beside(input);
        const std::int64_t dark =
            host::write_sequence(out.stream(), source, settings, plan, format.streamed(), close_up(), title);
        out.finish();
        return dark > 0 || count_losses(source) > 0 ? 1 : 0;
    }

    host::LampPlan lamp_plan(const std::optional<host::Vehicle>& lit) const {
        host::LampPlan plan = lit ? host::lamp_plan_of(*lit) : host::LampPlan{};
        if (!plan.lamps.empty()) return plan;
        if (!vehicle.empty())
            throw host::InputError(
                fmt::format("{}: no [[lamps]]; data/vehicles/demo.toml shows how to write them", vehicle));
        return host::lamp_plan_of(host::Vehicle::demo());
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

Command sequence_command() {
    return command_of<Sequence>();
}

} // namespace winkhold::app
