#include "options.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/waveform/scenario.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fmt/format.h>
#include <fmt/ranges.h>
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

std::int64_t parse_rate_hz(const std::string& text) {
    double rate = 0;
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, rate);
    const std::string_view unit(rest, static_cast<std::size_t>(end - rest));
    const double scale = unit == "Hz" ? 1 : unit == "kHz" ? 1e3 : unit == "MHz" ? 1e6 : 0;
    const double hz = rate * scale;
    if (error != std::errc{} || !(hz >= 1 && hz <= 1e9) || hz != std::floor(hz))
        throw host::InputError(fmt::format(
            "--rate \"{}\": write a whole sample rate from 1Hz to 1000MHz, like 44100Hz or 1MHz", text));
    return static_cast<std::int64_t>(hz);
}

double parse_percent(const std::string& text, const std::string& option) {
    double percent = 0;
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, percent);
    if (error != std::errc{} || !(percent > 0 && percent < 200) || std::string_view(rest, end) != "%")
        throw host::InputError(
            fmt::format("{} \"{}\": write a share from 0% to 200%, like 25%", option, text));
    return percent / 100;
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
    command
        .add_option("--left", options_.left,
                    "where the left side is: column, VCD signal, WAV channel (from 1), bit of\n"
                    "raw samples (from 0), or none")
        ->group("Recording");
    command.add_option("--right", options_.right, "the same for the right side")->group("Recording");
    command.add_option("--active", active_, "level that means lit: high or low (default high)")
        ->check(CLI::IsMember({"high", "low"}))
        ->group("Recording");
    command.add_option("--on-above", on_above_, "columns in volts: lit above (default 5V)")
        ->group("Recording");
    command.add_option("--off-below", off_below_, "columns in volts: dark below (default 3.5V)")
        ->group("Recording");
    command
        .add_flag("--decimal-comma", options_.decimal_comma,
                  "CSV: numbers like 0,5, with semicolons between columns")
        ->group("Recording");
    command
        .add_option("--rate", rate_,
                    "the file holds raw logic samples, one byte each, taken at this rate,\nlike 1MHz")
        ->group("Recording");
    command
        .add_option("--change", change_,
                    "WAV: smallest change that counts, as a share of full scale (default 25%).\n"
                    "A sound input passes changes and no levels, so changes are decoded")
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
    if (!rate_.empty()) options.sample_rate_hz = parse_rate_hz(rate_);
    options.sound_change = parse_percent(change_, "--change");
    return host::open_recording(path, options);
}

void tell_caveats(const std::string& path, const host::EdgeSource& source) {
    for (const host::Caveat& caveat : source.caveats())
        fmt::print(stderr, "winkhold: {}: {} (first at {}): {}\n", path, caveat.name,
                   host::format_duration(caveat.first_us), caveat.text);
}

void FormatChoice::add_to(CLI::App& command) {
    CLI::Option* json = command.add_flag("--json", json_, "write JSON (schema in the README)");
    command.add_flag("--csv", csv_, "write CSV")->excludes(json);
}

host::Format FormatChoice::format() const {
    return json_ ? host::Format::json : csv_ ? host::Format::csv : host::Format::text;
}

void PaperChoice::add_to(CLI::App& command) {
    CLI::Option* csv = command.add_flag("--csv", csv_, "write CSV (RFC 4180)");
    CLI::Option* markdown = command.add_flag("--markdown", markdown_, "write Markdown")->excludes(csv);
    command.add_flag("--json", json_, "write JSON (schema in the README)")->excludes(csv)->excludes(markdown);
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

void check_out_file(const std::string& out, const std::string& input,
                    std::initializer_list<std::string_view> endings) {
    if (std::none_of(endings.begin(), endings.end(),
                     [&](std::string_view end) { return out.ends_with(end); }))
        throw host::InputError(fmt::format("--out {}: the name must end in {}, which says the format", out,
                                           fmt::join(endings, " or ")));
    std::error_code error;
    if (std::filesystem::equivalent(out, input, error))
        throw host::InputError("--out would write over the recording; choose another name");
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
