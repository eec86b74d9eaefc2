#include "winkhold/taps/capture/recording.hpp"

#include "winkhold/taps/capture/detail/bytes.hpp"
#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/csv_source.hpp"
#include "winkhold/taps/capture/detail/link_source.hpp"
#include "winkhold/taps/capture/detail/raw_source.hpp"
#include "winkhold/taps/capture/detail/recorder_source.hpp"
#include "winkhold/taps/capture/detail/vcd_source.hpp"
#include "winkhold/taps/capture/detail/wav_source.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::taps {
namespace {

using namespace capture;

void check(const RecordingOptions& options) {
    if (options.left == "none" && options.right == "none") {
        throw Complaint{"left and right are both \"none\"; name at least one side with --left or --right"};
    }
    const bool finite = std::isfinite(options.on_above_v) && std::isfinite(options.off_below_v);
    if (!finite || options.off_below_v > options.on_above_v) {
        throw Complaint{
            fmt::format("the thresholds are on above {} V, off below {} V; the first must not be below the "
                        "second",
                        options.on_above_v, options.off_below_v)};
    }
    if (options.sample_rate_hz && (*options.sample_rate_hz < 1 || *options.sample_rate_hz > 1'000'000'000))
        throw Complaint{"the sample rate must be from 1 Hz to 1 GHz; write it like --rate 1MHz"};
    if (!(options.sound_change > 0 && options.sound_change < 2))
        throw Complaint{"the change to look for must be above 0 and below 200 % of full scale"};
}

// By the first bytes; raw samples have nothing to know them by.
enum class Kind { wav, link_log, recorder_log, vcd_or_csv };

Kind kind_of(std::string_view start) {
    const bool is_wav = start.size() >= 12 && (start.starts_with("RIFF") || start.starts_with("RF64")) &&
                        start.substr(8, 4) == "WAVE";
    if (is_wav) return Kind::wav;
    if (LinkSource::is_one(start)) return Kind::link_log;
    return start.starts_with("# winkhold") ? Kind::recorder_log : Kind::vcd_or_csv;
}

void refuse_if_not_raw(std::string_view start) {
    if (kind_of(start) == Kind::wav)
        throw Complaint{"this is a WAV file, which says its sample rate itself; leave --rate out"};
    const bool is_vcd = start.size() > 1 && start[0] == '$' && start[1] >= 'a' && start[1] <= 'z';
    if (is_vcd || start.starts_with("time_") || start.starts_with("# winkhold"))
        throw Complaint{"this is a text, with times of its own; leave --rate out, it is for raw samples"};
}

void refuse_csv_options(const RecordingOptions& options, std::string_view format) {
    if (options.time)
        throw Complaint{
            fmt::format("--time names a column of a CSV file, and this is {}; leave it out", format)};
}

void refuse_time_options(const RecordingOptions& options, std::string_view format) {
    refuse_csv_options(options, format);
    if (options.time_unit)
        throw Complaint{fmt::format("this is {}, which counts time itself; leave --time-unit out", format)};
}

std::string_view text_at_hand(const TextInput& input) {
    return {input.begin(), static_cast<std::size_t>(input.end() - input.begin())};
}

bool is_vcd(TextInput& input) {
    for (;;) {
        const std::string_view text = text_at_hand(input);
        if (!std::all_of(text.begin(), text.end(), [](char c) { return is_text(c) || is_space(c); })) {
            throw Complaint{
                "this is no text and no WAV file; a recording is a CSV (in UTF-8, if it comes from "
                "a spreadsheet), VCD or WAV file, a recorder's log, or, with --rate, raw logic "
                "samples"};
        }
        const auto first = std::find_if_not(text.begin(), text.end(), is_space);
        if (first != text.end()) return *first == '$';
        if (!input.refill(input.begin())) throw Complaint{"the file is empty; was anything recorded?"};
    }
}

} // namespace

std::unique_ptr<EdgeSource> open_recording(const std::string& path, const RecordingOptions& options) {
    const std::string file = path == "-" ? "standard input" : path;
    return located(file, 0, [&]() -> std::unique_ptr<EdgeSource> {
        check(options);
        auto bytes = std::make_unique<InputFile>(path);
        if (options.sample_rate_hz) {
            refuse_if_not_raw(bytes->start());
            refuse_time_options(options, "raw samples");
            return std::make_unique<RawSource>(file, std::move(bytes), options);
        }
        const Kind kind = kind_of(bytes->start());
        if (kind == Kind::wav) {
            refuse_time_options(options, "a WAV file");
            return std::make_unique<WavSource>(file, std::move(bytes), options);
        }
        if (kind == Kind::link_log) {
            refuse_time_options(options, "a board's log");
            return std::make_unique<LinkSource>(file, std::move(bytes), options);
        }
        auto input = std::make_unique<TextInput>(std::move(bytes));
        if (kind == Kind::recorder_log) {
            refuse_time_options(options, "a recorder's log");
            return std::make_unique<RecorderSource>(file, std::move(input), options);
        }
        if (is_vcd(*input)) {
            refuse_csv_options(options, "a VCD file");
            return std::make_unique<VcdSource>(file, std::move(input), options);
        }
        return std::make_unique<CsvSource>(file, std::move(input), options);
    });
}

} // namespace winkhold::taps
