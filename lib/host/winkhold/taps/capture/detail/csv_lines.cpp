#include "winkhold/taps/capture/detail/csv_lines.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/decimal.hpp"

#include <algorithm>

namespace winkhold::taps::capture {
namespace {

// Long enough for any preamble; a bound all the same, so that no file is read through for one.
constexpr std::size_t longest_head = std::size_t{512} << 10;

bool is_number(const std::string& text) {
    try {
        parse_decimal(text, "a number", text.find(',') == text.npos ? '.' : ',');
        return true;
    } catch (const Complaint&) {
        return false;
    }
}

// Of a semicolon that splits columns there are several in a line.
bool is_comment(std::string_view line, char separator) {
    if (line.starts_with('#') || line.starts_with('%')) return true;
    return line.starts_with(';') &&
           (separator != ';' || line.size() < 2 || line[1] == ' ' || line.find(';', 1) == line.npos);
}

} // namespace

bool CsvRecord::is_blank() const {
    return complaint.empty() &&
           std::all_of(fields.begin(), fields.end(), [](const std::string& field) { return field.empty(); });
}

bool CsvRecord::is_row() const {
    const auto is_number_or_empty = [](const std::string& field) {
        return field.empty() || is_number(field);
    };
    return complaint.empty() && !is_blank() && std::all_of(fields.begin(), fields.end(), is_number_or_empty);
}

bool CsvRecord::has_number_at(std::size_t field) const {
    return field < fields.size() && is_number(fields[field]);
}

bool CsvLines::have_line() {
    return input_.begin() + at_ != input_.end() || input_.refill(input_.begin());
}

std::optional<CsvRecord> CsvLines::next() {
    if (at_ > longest_head || !have_line()) return std::nullopt;
    CsvRecord record;
    record.line = line_;
    const char* const begin = input_.begin() + at_;
    const char* const end = std::find(begin, input_.end(), '\n');
    const std::string_view line(begin, static_cast<std::size_t>(end - begin));
    record.is_comment = is_comment(line, separator());
    if (record.is_comment) {
        record.fields.emplace_back(line);
        record.behind = at_ + line.size() + 1;
    } else {
        split(record);
    }
    at_ = record.behind;
    line_ += record.lines;
    return record;
}

std::optional<CsvRecord> CsvLines::next_filled() {
    for (;;) {
        auto record = next();
        if (!record || (!record->is_comment && !record->is_blank())) return record;
    }
}

// A line that is no CSV makes a record with a complaint, as a preamble may hold anything.
void CsvLines::split(CsvRecord& record) {
    const char* at = input_.begin() + at_;
    try {
        for (;;) {
            std::string_view text;
            const char* const behind = fields_.take(at, input_.end(), text);
            if (behind == nullptr) {
                const auto offset = at - input_.begin();
                if (!input_.refill(input_.begin()))
                    throw Complaint{"a quote opened here is never closed; close it, or leave the quotes out"};
                at = input_.begin() + offset;
                continue;
            }
            record.fields.emplace_back(text);
            at = behind + 1;
            if (*behind == separator()) continue;
            at = behind_line_end(behind);
            break;
        }
    } catch (const Complaint& complaint) {
        record.complaint = complaint.what;
        const char* const line = input_.begin() + at_;
        at = std::find(line, input_.end(), '\n') + 1;
    }
    record.behind = static_cast<std::size_t>(at - input_.begin());
    const char* const begin = input_.begin() + at_;
    record.lines = std::count(begin, input_.begin() + record.behind, '\n');
}

} // namespace winkhold::taps::capture
