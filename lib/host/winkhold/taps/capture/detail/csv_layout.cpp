#include "winkhold/taps/capture/detail/csv_layout.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/csv_time.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

using Kind = CsvColumn::Kind;

// More than any recorder has channels, few enough to keep.
constexpr std::size_t most_columns = 10'000;

// A unit in the row below counts for more than one in the preamble, one in the name for most.
std::vector<CsvName> named_with_units(const std::vector<std::string>& names,
                                      const std::vector<std::string>& units, const CsvPreamble& preamble) {
    std::vector<CsvName> result;
    for (std::size_t i = 0; i < names.size(); ++i) {
        CsvName name = take_apart(names[i]);
        for (const auto* const row : {&units, &preamble.units}) {
            if (name.unit.of != CsvUnit::Of::nothing || i >= row->size()) continue;
            name.unit = read_unit((*row)[i]);
            if (!(*row)[i].empty()) name.unit_text = (*row)[i];
        }
        result.push_back(name);
    }
    return result;
}

// This project's own form names the unit of each column.
bool is_of_our_own(const CsvLayout& layout) {
    return std::any_of(layout.columns.begin(), layout.columns.end(), [](const CsvColumn& column) {
        return column.kind == Kind::time &&
               (column.name == "time_us" || column.name == "time_ms" || column.name == "time_s");
    });
}

void place_columns(CsvLayout& layout, const std::vector<CsvName>& names, const RecordingOptions& options) {
    Offer offer{"column", {}, {}};
    for (const CsvColumn& column : layout.columns)
        if (column.kind == Kind::ignored && !column.name.empty()) offer.names.push_back(column.name);
    offer.find = [&](std::string_view name) -> std::optional<Place> {
        const auto index = find_csv_column(layout.columns, names, name);
        if (!index || layout.columns[*index].kind != Kind::ignored) return std::nullopt;
        if (names[*index].unit.of == CsvUnit::Of::other || names[*index].unit.of == CsvUnit::Of::time)
            throw Complaint{fmt::format("{} is in {}, and a tap is read from a level or from volts",
                                        layout.columns[*index].label, shown(names[*index].unit_text))};
        return Place{*index};
    };
    Placement placement = place_taps(options, offer);
    layout.caveats = std::move(placement.left_out);
    const bool is_own = is_of_our_own(layout);
    for (const PlacedTap& placed : placement.taps) {
        CsvColumn& column = layout.columns[placed.place.index];
        const CsvUnit unit = names[placed.place.index].unit;
        column.kind = unit.of == CsvUnit::Of::volts ? Kind::volts : is_own ? Kind::level : Kind::unsettled;
        column.exponent = unit.exponent;
        column.tap = placed.tap;
        column.is_asked = placed.is_asked;
    }
}

} // namespace

CsvLayout read_csv_layout(const std::vector<std::string>& names, const std::vector<std::string>& units,
                          const CsvPreamble& preamble, char separator, const RecordingOptions& options) {
    if (names.size() > most_columns)
        throw Complaint{
            fmt::format("{} columns; keep those that are needed, {} at most", names.size(), most_columns)};
    if (options.decimal_comma && separator == ',') {
        throw Complaint{"commas stand between the columns, so they can't be decimal commas, too; export with "
                        "semicolons between columns, or leave --decimal-comma out"};
    }
    CsvLayout layout;
    layout.separator = separator;
    layout.decimal_mark = options.decimal_comma ? ',' : '.';
    layout.is_mark_sure = options.decimal_comma || separator == ',';
    for (const std::string& name : names)
        layout.columns.push_back({.name = name, .label = shown(name)});
    const std::vector<CsvName> parts = named_with_units(names, units, preamble);
    place_csv_time(layout, parts, units, preamble, options);
    place_columns(layout, parts, options);
    return layout;
}

} // namespace winkhold::taps::capture
