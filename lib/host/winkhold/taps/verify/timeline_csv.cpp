#include "winkhold/base/detail/small_file.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/taps/verify/case.hpp"

#include <charconv>
#include <fmt/format.h>
#include <sstream>

namespace winkhold::taps {
namespace {

constexpr std::string_view header = "time_us,indication";

IndicationChange read_row(std::string_view row) {
    IndicationChange change;
    const std::size_t comma = std::min(row.find(','), row.size());
    const char* const end = row.data() + comma;
    const auto [rest, error] = std::from_chars(row.data(), end, change.t_us);
    if (comma == row.size() || error != std::errc{} || rest != end || change.t_us < 0 ||
        change.t_us > latest_us)
        throw InputError("write a time in us, a comma and an indication, like 6000,left");
    for (const auto indication :
         {core::Indication::off, core::Indication::left, core::Indication::right, core::Indication::hazard}) {
        change.indication = indication;
        if (row.substr(comma + 1) == name(indication)) return change;
    }
    throw InputError("no indication; write off, left, right or hazard");
}

} // namespace

Timeline read_timeline_csv(const std::string& path) {
    constexpr std::size_t most_bytes = std::size_t{64} << 20; // two million changes
    std::istringstream file(read_small_file(path, most_bytes, "a CSV of time_us,indication"));
    Timeline timeline;
    long long line = 0;
    for (std::string row; std::getline(file, row);) {
        ++line;
        if (row.ends_with('\r')) row.pop_back();
        const auto refuse = [&](const std::string& why) { throw InputError(at_line(path, line, why)); };
        if (line == 1) {
            if (row != header) refuse(fmt::format("the header must be {}", header));
            continue;
        }
        if (row.empty()) continue;
        IndicationChange change;
        try {
            change = read_row(row);
        } catch (const InputError& error) {
            refuse(error.what());
        }
        if (!timeline.empty() && change.t_us <= timeline.back().t_us)
            refuse("times must rise from row to row");
        if (!timeline.empty() && change.indication == timeline.back().indication)
            refuse(fmt::format("{} again is no change; leave the row out", name(change.indication)));
        timeline.push_back(change);
    }
    if (timeline.empty())
        throw InputError(at_line(path, line, "no rows; the first one says what is shown at the start"));
    return timeline;
}

void write_timeline_csv(std::ostream& out, const Timeline& timeline) {
    CsvWriter csv(out);
    csv.record("time_us", "indication");
    for (const IndicationChange& change : timeline)
        csv.record(change.t_us, name(change.indication));
    csv.flush();
}

} // namespace winkhold::taps
