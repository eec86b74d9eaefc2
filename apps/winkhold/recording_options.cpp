#include "recording_options.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/time.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

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

RecordingOptions::RecordingOptions()
    : active_(options_.active_high ? "high" : "low"), on_above_(fmt::format("{}V", options_.on_above_v)),
      off_below_(fmt::format("{}V", options_.off_below_v)),
      change_(fmt::format("{}%", options_.sound_change * 100)) {}

void RecordingOptions::add_to(Command& command) {
    const std::size_t before = command.options.size();
    command.text("--left", "NAME", options_.left,
                 "where the left side is: column, VCD signal, WAV channel (from 1), bit of raw samples "
                 "(from 0), or none");
    command.text("--right", "NAME", options_.right, "the same for the right side");
    command.text("--brake", "NAME", options_.brake, "the same for the brake, or none to leave it out");
    command.text("--tail", "NAME", options_.tail, "the same for the tail light");
    command.text("--supply", "NAME", options_.supply, "the same for the supply");
    command.text("--time", "NAME", options_.time, "CSV: the column with the time");
    command.text("--time-unit", "UNIT", options_.time_unit,
                 "CSV and VCD: what times count, s, ms, us or ns, whatever the file says");
    command.word("--active", {"high", "low"}, active_, "level that means lit");
    command.text("--on-above", "VOLTS", on_above_, "columns in volts: lit above");
    command.text("--off-below", "VOLTS", off_below_, "columns in volts: dark below");
    command.flag("--decimal-comma", options_.decimal_comma,
                 "CSV: numbers like 0,5, with semicolons between columns");
    command.text("--rate", "HERTZ", rate_,
                 "the file holds raw logic samples, one byte each, taken at this rate, like 1MHz");
    command.text("--change", "SHARE", change_,
                 "WAV: smallest change that counts, as a share of full scale. A sound input passes changes "
                 "and no levels, so changes are decoded");
    for (std::size_t i = before; i < command.options.size(); ++i)
        command.options[i].section = "Recording";
}

std::unique_ptr<host::EdgeSource> RecordingOptions::open(const std::string& path) const {
    return open_hearing(path, {});
}

std::unique_ptr<host::EdgeSource> RecordingOptions::open_hearing(const std::string& path,
                                                                 const OnVolts& on_volts) const {
    host::RecordingOptions options = options_;
    options.active_high = active_ == "high";
    options.on_volts = on_volts;
    options.on_above_v = parse_volts(on_above_, "--on-above");
    options.off_below_v = parse_volts(off_below_, "--off-below");
    if (!rate_.empty()) options.sample_rate_hz = parse_rate_hz(rate_);
    if (!rate_.empty() && path.ends_with(".toml")) // its bytes would do as samples
        throw host::InputError(path + ": is text, not raw samples");
    options.sound_change = parse_percent(change_, "--change");
    return host::open_recording(path, options);
}

void tell_caveats(const std::string& path, const host::EdgeSource& source) {
    for (const host::Caveat& caveat : source.caveats())
        fmt::print(stderr, "winkhold: {}: {} (first at {}): {}\n", path, caveat.name,
                   host::format_duration(caveat.first_us), caveat.text);
}

std::size_t count_losses(const host::EdgeSource& source) {
    const auto& caveats = source.caveats();
    return static_cast<std::size_t>(std::count_if(
        caveats.begin(), caveats.end(), [](const host::Caveat& caveat) { return caveat.is_incomplete; }));
}

} // namespace winkhold::app
