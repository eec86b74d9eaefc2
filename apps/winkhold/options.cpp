#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/waveform/scenario.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <fstream>
#include <iostream>
#include <thread>
#include <unistd.h>

namespace winkhold::app {
namespace {

std::string option_name(std::string_view setting) {
    std::string name = "--" + std::string(setting);
    std::replace(name.begin(), name.end(), '_', '-');
    return name;
}

double parse_volts(const std::string& text, const std::string& option) {
    double volts = 0;
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, volts);
    if (error != std::errc{} || !std::isfinite(volts) || (rest != end && std::string_view(rest, end) != "V"))
        throw host::InputError(fmt::format("{} \"{}\": write a voltage like 5V or 3.5", option, text));
    return volts;
}

} // namespace

void DecoderOptions::add_to(CLI::App& command) {
    for (const host::NamedSetting& named : host::named_settings)
        command.add_option(option_name(named.name), texts_[std::string(named.name)], std::string(named.help))
            ->group("Decoder");
    command
        .add_option("--settings", file_, "take decoder settings from the [decoder] section of a TOML file")
        ->group("Decoder");
}

const std::string& DecoderOptions::text(const std::string& name) const {
    return texts_.at(name);
}

core::Settings DecoderOptions::over(const core::Settings& base, bool leave_grids) const {
    core::Settings settings = file_.empty() ? base : host::read_settings(file_, base);
    if (text("hold_rule").empty() && !text("hold").empty()) {
        settings.rule = core::HoldRule::fixed;
        settings.cut_short = false;
    } else if (text("hold_rule").empty() && !text("guard").empty()) {
        settings.rule = core::HoldRule::paced;
    }
    for (const auto& [name, text] : texts_)
        if (!text.empty() && !(leave_grids && text.find(':') != std::string::npos))
            host::set_by_name(settings, name, text, option_name(name));
    return settings;
}

void RecordingChoice::add_to(CLI::App& command) {
    command.add_option("--left", options_.left, "column or VCD signal of the left side, or none")
        ->group("Recording");
    command.add_option("--right", options_.right, "column or VCD signal of the right side, or none")
        ->group("Recording");
    command.add_option("--active", active_, "level that means lit: high or low (default high)")
        ->check(CLI::IsMember({"high", "low"}))
        ->group("Recording");
    command.add_option("--on-above", on_above_, "columns in volts: lit above (default 5V)")
        ->group("Recording");
    command.add_option("--off-below", off_below_, "columns in volts: dark below (default 3.5V)")
        ->group("Recording");
}

host::RecordingOptions RecordingChoice::named() const {
    host::RecordingOptions options = options_;
    options.active_high = active_ == "high";
    return options;
}

std::unique_ptr<host::EdgeSource> RecordingChoice::open_at(const std::string& path, double volts) const {
    host::RecordingOptions options = named();
    options.on_above_v = options.off_below_v = volts;
    return host::open_recording(path, options);
}

std::unique_ptr<host::EdgeSource> RecordingChoice::open(const std::string& path) const {
    host::RecordingOptions options = named();
    options.on_above_v = parse_volts(on_above_, "--on-above");
    options.off_below_v = parse_volts(off_below_, "--off-below");
    return host::open_recording(path, options);
}

void FormatChoice::add_to(CLI::App& command) {
    CLI::Option* json = command.add_flag("--json", json_, "write JSON (schema in the README)");
    command.add_flag("--csv", csv_, "write CSV")->excludes(json);
}

host::Format FormatChoice::format() const {
    return json_ ? host::Format::json : csv_ ? host::Format::csv : host::Format::text;
}

void add_threads(CLI::App& command, int& threads) {
    command.add_option("--threads", threads, "threads (default: all cores); results never depend on it")
        ->check(CLI::Range(1, 1024));
}

int threads_or_all(int threads) {
    return threads > 0 ? threads : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
}

host::Progress progress_of(const char* what) {
    if (isatty(STDERR_FILENO) == 0) return {};
    return [what](std::int64_t done, std::int64_t all) {
        fmt::print(stderr, "\r{} of {} {}{}", done, all, what, done == all ? "\r\033[K" : "");
    };
}

Output::Output(const std::string& path) : path_(path) {
    if (path == "-") return;
    file_ = std::make_unique<std::ofstream>(path, std::ios::binary);
    if (!*file_) throw host::InputError(host::at_line(path, 0, "can't be written; does its folder exist?"));
}

Output::~Output() = default;

std::ostream& Output::stream() {
    return file_ ? *file_ : std::cout;
}

void Output::finish() {
    stream().flush();
    if (!stream()) throw host::InputError(host::at_line(path_, 0, "writing failed; is the disk full?"));
}

} // namespace winkhold::app
