// What CsvRows has to say: why a row is refused, and what to know once all are read.
#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/csv_rows.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {

void CsvRows::refuse_time(TimeUs t_us) const {
    if (t_us > latest_us_)
        throw Complaint{"this row is beyond the ten years a recording may last; is the unit of time right?"};
    throw Complaint{
        fmt::format("time goes back from {} us to {} us; sort the rows by time, or split the file "
                    "where a new recording starts",
                    now_.t_us, t_us)};
}

std::size_t CsvRows::count_fields(const char* at, const char* end) {
    for (std::size_t count = 1;; ++count) {
        std::string_view text;
        at = fields_.take(at, end, text);
        if (at == nullptr || *at != separator_) return count;
        ++at;
    }
}

// Its fields may be misread then, so that this is the better thing to say.
bool CsvRows::has_other_field_count(const char* row, const char* end) {
    try {
        const std::size_t count = count_fields(row, end);
        return count < needed_.size() || count > layout_.columns.size();
    } catch (const Complaint&) {
        return false;
    }
}

void CsvRows::refuse_field_count(const char* row, const char* end) {
    const std::size_t expected = layout_.columns.size();
    const std::size_t count = count_fields(row, end);
    const std::string_view line(row, static_cast<std::size_t>(std::find(row, end, '\n') - row));
    const bool has_other = line.find(separator_ == ',' ? ';' : ',') != line.npos;
    if (count > expected || has_other) {
        throw Complaint{fmt::format(
            "{} fields where the header names {}; expected is {} between columns, as in the "
            "header, and no decimal comma unless something else separates",
            count, expected, separator_ == ',' ? "a comma" : (separator_ == ';' ? "a semicolon" : "a tab"))};
    }
    throw Complaint{
        fmt::format("{} fields where the header names {}; is the recording cut off here?", count, expected)};
}

std::vector<Caveat> CsvRows::caveats() const {
    std::vector<Caveat> caveats = layout_.caveats;
    if (origin_us_ < 0)
        caveats.push_back({"time-from-first-row", 1, 0,
                           fmt::format("times begin {} below zero, and count from the first row here",
                                       format_duration(-origin_us_))});
    unread_.add_caveats(caveats, origin_us_);
    const auto is_side_in_volts = [](const CsvColumn& column) {
        return column.kind == CsvColumn::Kind::volts &&
               (column.tap == Lines::left || column.tap == Lines::right);
    };
    const bool in_volts = std::any_of(needed_.begin(), needed_.end(), is_side_in_volts);
    if (in_volts && !rules_.is_inverted() && !had_light_)
        caveats.push_back({"never-lit", 1, 0,
                           fmt::format("no side ever rises above {} V; if its lights do not reach that, give "
                                       "--on-above and --off-below",
                                       rules_.on_above_v())});
    return caveats;
}

} // namespace winkhold::taps::capture
