#include "winkhold/taps/capture/detail/csv_settle.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

using Kind = CsvColumn::Kind;

// Enough to see that noise about 0 V is no level.
constexpr int most_rows = 1'000;

struct Seen {
    bool in_decimals{false};
    bool one{false};
    std::string no_level; // a number in decimals that is neither 0 nor 1
    std::string example;
};

void look(Seen& seen, const std::string& text) {
    if (text.find_first_of(".,eE") == text.npos) return;
    SignedDecimal parsed;
    try {
        parsed = parse_decimal(text, "a number", text.find(',') == text.npos ? '.' : ',');
    } catch (const Complaint&) {
        return; // its row is refused in its turn
    }
    const double value = to_double(parsed.number);
    if (seen.example.empty()) seen.example = text;
    seen.in_decimals = true;
    seen.one |= value == 1;
    if (value != 0 && (value != 1 || parsed.negative) && seen.no_level.empty()) seen.no_level = text;
}

void settle_time(CsvLayout& layout, const CsvColumn& column, const Seen& seen) {
    if (!seen.in_decimals) {
        throw Complaint{fmt::format(
            "{} names no unit; say which it is with --time-unit, one of s, ms, us, ns", column.label)};
    }
    layout.is_time_unit_sure = true;
    layout.caveats.push_back({"seconds-assumed", 1, 0,
                              fmt::format("{} names no unit and has numbers such as {}: taken for seconds "
                                          "(--time-unit says otherwise)",
                                          column.label, seen.example)});
}

void settle_tap(CsvLayout& layout, CsvColumn& column, const Seen& seen) {
    const bool in_volts = !seen.no_level.empty() || (seen.in_decimals && !seen.one);
    column.kind = in_volts ? Kind::volts : Kind::level;
    if (!in_volts) return;
    layout.caveats.push_back(
        {"volts-assumed", 1, 0,
         fmt::format("{} names no unit and has numbers such as {}: taken for volts", column.label,
                     seen.no_level.empty() ? seen.example : seen.no_level)});
}

} // namespace

void settle_csv_layout(CsvLayout& layout, const std::optional<CsvRecord>& first, CsvLines& lines) {
    const auto is_open = [&](const CsvColumn& column) {
        return column.kind == Kind::unsettled || (column.kind == Kind::time && !layout.is_time_unit_sure);
    };
    if (std::none_of(layout.columns.begin(), layout.columns.end(), is_open)) return;
    std::vector<Seen> seen(layout.columns.size());
    auto row = first ? first : lines.next_filled();
    for (int rows = 0; row && rows < most_rows; ++rows, row = lines.next_filled()) {
        for (std::size_t i = 0; i < std::min(row->fields.size(), seen.size()); ++i)
            if (is_open(layout.columns[i])) look(seen[i], row->fields[i]);
    }
    for (std::size_t i = 0; i < seen.size(); ++i) {
        CsvColumn& column = layout.columns[i];
        if (column.kind == Kind::unsettled)
            settle_tap(layout, column, seen[i]);
        else if (is_open(column))
            settle_time(layout, column, seen[i]);
    }
}

} // namespace winkhold::taps::capture
