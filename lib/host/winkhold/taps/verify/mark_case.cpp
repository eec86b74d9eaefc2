#include "winkhold/taps/verify/mark_case.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/output_file.hpp"
#include "winkhold/base/settings_text.hpp"
#include "winkhold/taps/capture/recording.hpp"
#include "winkhold/taps/link/board_log.hpp"
#include "winkhold/taps/verify/case.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <ostream>

namespace winkhold::taps {
namespace {

namespace fs = std::filesystem;

/// From `from_us` to `to_us`, its times from 0 on.
Trace cut_out(const Trace& whole, TimeUs from_us, TimeUs to_us) {
    Trace cut;
    cut.edges.push_back({0, {}});
    for (const Edge& edge : whole.edges) {
        if (edge.t_us > to_us) break;
        if (edge.t_us <= from_us)
            cut.edges.front().lines = edge.lines;
        else
            cut.edges.push_back({edge.t_us - from_us, edge.lines});
    }
    cut.end_us = std::min(whole.end_us, to_us) - from_us;
    return cut;
}

/// The same, with `shown` for as long as what it shows at `t_us` lasts.
Timeline with_shown(const Timeline& decoded, TimeUs t_us, core::Indication shown) {
    Timeline expected;
    for (std::size_t i = 0; i < decoded.size(); ++i) {
        const bool is_marked =
            decoded[i].t_us <= t_us && (i + 1 == decoded.size() || decoded[i + 1].t_us > t_us);
        const core::Indication one = is_marked ? shown : decoded[i].indication;
        if (expected.empty() || expected.back().indication != one) expected.push_back({decoded[i].t_us, one});
    }
    return expected;
}

/// Between quotes of TOML; marks are legible and on one line.
std::string quoted(std::string text) {
    std::replace(text.begin(), text.end(), '"', '\'');
    std::replace(text.begin(), text.end(), '\\', '/');
    return fmt::format("\"{}\"", text);
}

std::string case_text(const Mark& mark, int number, TimeUs at_us,
                      std::optional<core::Indication> should_show) {
    std::string text = fmt::format(
        "[provenance]\norigin = \"real\"\nsource = \"mark {} of a log of the board's port\"\nlicence = \"its "
        "owner has stated none\"\nreason = {}\nreasoning = \"{} The mark is at {} ms. Look at it: what "
        "should "
        "have been shown, and why?\"\n\n[recording]\nfile = \"recording.csv\"\n\n[decoder]\n",
        number, quoted(mark.note.empty() ? "marked without a note" : mark.note),
        should_show
            ? fmt::format("Somebody at the bike says that {} should have been shown.", name(*should_show))
            : "Expected is what this state of the decoder makes of the taps.",
        at_us / 1'000);
    for (const NamedSetting& named : named_settings) {
        std::string value = value_text(mark.settings, named.name);
        value.erase(std::remove(value.begin(), value.end(), ' '), value.end());
        text += fmt::format("{} = \"{}\"\n", named.name, value);
    }
    return text;
}

template <class Write>
void write_file(const fs::path& path, Write write) {
    OutputFile file(path.string(), false);
    write(file.stream());
    file.finish();
}

} // namespace

std::string make_case_of_mark(const std::string& recording, int number, const std::string& folder,
                              std::optional<core::Indication> should_show) {
    const std::vector<Mark> marks = read_marks(recording);
    if (marks.empty())
        throw InputError(at_line(recording, 0, "holds no mark; m makes one while winkhold live records"));
    if (number < 1 || static_cast<std::size_t>(number) > marks.size())
        throw InputError(
            at_line(recording, 0, fmt::format("has no mark {}; it has 1 to {}", number, marks.size())));
    const Mark& mark = marks[static_cast<std::size_t>(number - 1)];
    const Trace whole = read_all(*open_recording(recording, {}));
    const TimeUs from_us = std::max<TimeUs>(0, mark.t_us - before_mark_us);
    const TimeUs at_us = mark.t_us - from_us;
    if (from_us > whole.end_us)
        throw InputError(at_line(recording, 0, fmt::format("mark {} is behind its end", number)));
    const Trace cut = cut_out(whole, from_us, mark.t_us + after_mark_us);
    Timeline expected = decode(cut, mark.settings);
    if (should_show) expected = with_shown(expected, at_us, *should_show);

    std::error_code error;
    if (!fs::create_directories(folder, error))
        throw InputError(at_line(folder, 0,
                                 error ? "can't be made; does the folder above it take new ones?"
                                       : "is there already; name a new folder"));
    write_file(fs::path(folder) / "recording.csv", [&](std::ostream& out) { write_csv(out, cut); });
    write_file(fs::path(folder) / expected_file,
               [&](std::ostream& out) { write_timeline_csv(out, expected); });
    write_file(fs::path(folder) / case_file,
               [&](std::ostream& out) { out << case_text(mark, number, at_us, should_show); });
    return fmt::format(
        "{}: mark {} at {} ms of the case, {}\nLook at {} there, then run: winkhold verify {}\n", folder,
        number, at_us / 1'000, mark.note.empty() ? "no note" : mark.note, expected_file, folder);
}

} // namespace winkhold::taps
