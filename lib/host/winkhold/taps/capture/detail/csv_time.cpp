#include "winkhold/taps/capture/detail/csv_time.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

using Kind = CsvColumn::Kind;
using Names = std::vector<CsvName>;

bool is_called_time(const CsvName& name) {
    constexpr std::string_view words[] = {"time",         "t",    "x",         "x-axis", "timestamp",
                                          "elapsed time", "zeit", "time stamp"};
    return std::find(std::begin(words), std::end(words), lower(name.bare)) != std::end(words);
}

bool is_in_time(const CsvName& name) {
    return name.unit.of == CsvUnit::Of::time;
}

[[noreturn]] void refuse_two(const CsvColumn& first, const CsvColumn& second) {
    if (first.name == second.name)
        throw Complaint{fmt::format("column {} is there twice; rename one of them", first.label)};
    throw Complaint{fmt::format("both {} and {} are there; keep one time column, or say which with --time "
                                "NAME",
                                first.name, second.name)};
}

// The one column that is `wanted`, and called time if there are several.
std::optional<std::size_t> find_one(const CsvLayout& layout, const Names& names,
                                    bool (*wanted)(const CsvName&)) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < names.size(); ++i)
        if (wanted(names[i])) found.push_back(i);
    const auto other = [&](std::size_t i) { return !is_called_time(names[i]); };
    if (!std::all_of(found.begin(), found.end(), other)) std::erase_if(found, other);
    if (found.size() > 1) refuse_two(layout.columns[found[0]], layout.columns[found[1]]);
    return found.empty() ? std::nullopt : std::optional(found.front());
}

[[noreturn]] void refuse_without_time(const CsvLayout& layout) {
    std::vector<std::string> listing;
    for (const CsvColumn& column : layout.columns)
        listing.push_back(column.name);
    throw Complaint{
        fmt::format("no time column; the line that names the columns must have one with its unit, as "
                    "time_us, time_ms, time_s or Time [s]; say which it is with --time NAME; it names: {}",
                    listed(listing))};
}

std::optional<Decimal> number_in(const std::vector<std::string>& row, std::size_t at, bool& negative) {
    if (at >= row.size()) return std::nullopt;
    try {
        const char mark = row[at].find(',') == std::string::npos ? '.' : ',';
        const SignedDecimal parsed = parse_decimal(row[at], "a number", mark);
        negative = parsed.negative;
        return parsed.number;
    } catch (const Complaint&) {
        return std::nullopt;
    }
}

// A count of samples, with its start and step in the row below the names.
bool place_counted(CsvLayout& layout, const Names& names, const std::vector<std::string>& units) {
    const auto column = [&](std::string_view name) {
        const auto found = std::find_if(names.begin(), names.end(),
                                        [name](const CsvName& other) { return lower(other.bare) == name; });
        return static_cast<std::size_t>(found - names.begin());
    };
    bool negative = false;
    const auto step = number_in(units, column("increment"), negative);
    if (!step || negative) return false;
    layout.clock = SampleClock::of_interval(*step);
    if (!layout.clock) throw Complaint{"the increment is no time from one sample to the next"};
    if (const auto start = number_in(units, column("start"), negative)) {
        const TimeUs start_us = to_time_us(*start, 6);
        if (start_us > latest_us) throw Complaint{"the start is beyond the ten years a recording may last"};
        layout.start_us = negative ? -start_us : start_us;
    }
    layout.columns.front().kind = Kind::sample;
    return true;
}

} // namespace

std::optional<std::size_t> find_csv_column(const std::vector<CsvColumn>& columns, const Names& names,
                                           std::string_view name) {
    if (name.empty()) return std::nullopt;
    const std::string small = lower(name);
    for (int leniency = 0; leniency < 4; ++leniency) {
        std::vector<std::size_t> found;
        for (std::size_t i = 0; i < columns.size(); ++i) {
            const std::string_view other = leniency % 2 == 0 ? columns[i].name : names[i].bare;
            if (leniency < 2 ? other == name : lower(other) == small) found.push_back(i);
        }
        if (found.size() == 1) return found.front();
        if (found.empty()) continue;
        const CsvColumn& first = columns[found[0]];
        const CsvColumn& second = columns[found[1]];
        if (first.name == second.name)
            throw Complaint{fmt::format("column {} is there twice; rename one of them", first.label)};
        throw Complaint{
            fmt::format("{} may be {} or {}; give the name in full", shown(name), first.label, second.label)};
    }
    return std::nullopt;
}

void place_csv_time(CsvLayout& layout, const Names& names, const std::vector<std::string>& units,
                    const CsvPreamble& preamble, const RecordingOptions& options) {
    std::optional<std::size_t> time;
    if (options.time) {
        time = find_csv_column(layout.columns, names, *options.time);
        if (!time) throw Complaint{fmt::format("no column {} (--time)", shown(*options.time))};
    } else {
        time = find_one(layout, names, is_in_time);
        if (!time && place_counted(layout, names, units)) return;
        if (!time) time = find_one(layout, names, is_called_time);
    }
    if (!time) {
        layout.clock = preamble.clock;
        if (!layout.clock) refuse_without_time(layout);
        return;
    }
    CsvColumn& column = layout.columns[*time];
    const CsvName& name = names[*time];
    column.kind = Kind::time;
    if (options.time_unit) {
        const CsvUnit unit = read_unit(*options.time_unit);
        if (unit.of != CsvUnit::Of::time)
            throw Complaint{
                fmt::format("--time-unit {}: write one of s, ms, us, ns", shown(*options.time_unit))};
        column.exponent = unit.exponent;
    } else if (is_in_time(name)) {
        column.exponent = name.unit.exponent;
    } else if (!name.unit_text.empty()) {
        throw Complaint{fmt::format("{} counts {}, no unit of time that is known; export it in s or ms, or "
                                    "say which unit it is with --time-unit",
                                    column.label, shown(name.unit_text))};
    } else {
        column.exponent = 6;
        layout.is_time_unit_sure = false;
    }
}

} // namespace winkhold::taps::capture
