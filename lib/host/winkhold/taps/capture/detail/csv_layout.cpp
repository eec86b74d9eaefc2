#include "winkhold/taps/capture/detail/csv_layout.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

// More than any recorder has channels, few enough to keep.
constexpr std::size_t most_columns = 10'000;

struct TimeUnit {
    std::string_view name;
    int exponent;
};

constexpr TimeUnit time_units[] = {{"time_us", 0}, {"time_ms", 3}, {"time_s", 6}};

const TimeUnit* time_unit(std::string_view name) {
    const auto* const unit = std::find_if(std::begin(time_units), std::end(time_units),
                                          [name](const TimeUnit& other) { return other.name == name; });
    return unit == std::end(time_units) ? nullptr : unit;
}

std::vector<std::string> names_of(const CsvRow& header) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < header.size(); ++i)
        names.emplace_back(header[i]);
    return names;
}

void refuse_same_names(std::vector<std::string> names) {
    std::sort(names.begin(), names.end());
    std::erase(names, "");
    const auto twice = std::adjacent_find(names.begin(), names.end());
    if (twice == names.end()) return;
    throw Complaint{fmt::format("column {} is there twice; rename one of them", shown(*twice))};
}

[[noreturn]] void refuse_without_time(const std::vector<std::string>& names) {
    const auto holds_tab = [](const std::string& name) { return name.find('\t') != name.npos; };
    if (std::any_of(names.begin(), names.end(), holds_tab)) {
        throw Complaint{"the columns are split by tabs; export with a comma or semicolon between columns"};
    }
    throw Complaint{
        fmt::format("no time column; the first line must name the columns, one of them time_us, time_ms or "
                    "time_s; it names: {}",
                    listed(names))};
}

std::size_t find_time(const std::vector<std::string>& names) {
    const auto is_time = [](const std::string& name) { return time_unit(name) != nullptr; };
    const auto found = std::find_if(names.begin(), names.end(), is_time);
    if (found == names.end()) refuse_without_time(names);
    refuse_same_names(names);
    const auto other = std::find_if(found + 1, names.end(), is_time);
    if (other == names.end()) return static_cast<std::size_t>(found - names.begin());
    throw Complaint{fmt::format("both {} and {} are there; keep one time column", *found, *other)};
}

} // namespace

char csv_separator(std::string_view text) {
    bool in_quotes = false;
    for (const char c : text) {
        if (c == '"') in_quotes = !in_quotes;
        if (!in_quotes && (c == ',' || c == ';')) return c;
        if (!in_quotes && c == '\n') break;
    }
    return ',';
}

CsvLayout read_csv_layout(const CsvRow& header, char separator, const RecordingOptions& options) {
    if (header.size() > most_columns)
        throw Complaint{
            fmt::format("{} columns; keep those that are needed, {} at most", header.size(), most_columns)};
    if (options.decimal_comma && separator == ',') {
        throw Complaint{"commas stand between the columns, so they can't be decimal commas, too; export with "
                        "semicolons between columns, or leave --decimal-comma out"};
    }
    const std::vector<std::string> names = names_of(header);
    const std::size_t time = find_time(names);
    CsvLayout layout;
    layout.separator = separator;
    layout.decimal_mark = options.decimal_comma ? ',' : '.';
    layout.time_exponent = time_unit(names[time])->exponent;
    Offer offer{"column", {}, [&](std::string_view name) -> std::optional<Place> {
                    const auto found = std::find(names.begin(), names.end(), name);
                    const auto index = static_cast<std::size_t>(found - names.begin());
                    if (found == names.end() || index == time || name.empty()) return std::nullopt;
                    return Place{index};
                }};
    for (const std::string& name : names) {
        layout.columns.push_back({.label = shown(name)});
        if (name != names[time] && !name.empty()) offer.names.push_back(name);
    }
    layout.columns[time].kind = CsvColumn::Kind::time;
    for (const PlacedTap& placed : place_taps(options, offer)) {
        const bool in_volts = std::string_view(names[placed.place.index]).ends_with("_v");
        CsvColumn& column = layout.columns[placed.place.index];
        column.kind = in_volts ? CsvColumn::Kind::volts : CsvColumn::Kind::level;
        column.tap = placed.tap;
    }
    return layout;
}

} // namespace winkhold::taps::capture
