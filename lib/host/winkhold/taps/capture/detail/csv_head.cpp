#include "winkhold/taps/capture/detail/csv_head.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/csv_lines.hpp"
#include "winkhold/taps/capture/detail/csv_settle.hpp"

#include <algorithm>

namespace winkhold::taps::capture {
namespace {

bool is_row_of_units(const CsvRecord& record) {
    const auto is_unit = [](const std::string& field) {
        return read_unit(field).of != CsvUnit::Of::nothing || lower(field) == "sequence";
    };
    return record.complaint.empty() && !record.is_row() &&
           std::any_of(record.fields.begin(), record.fields.end(), is_unit);
}

// Looks at each line as if it named the columns; the first that makes sense does.
class HeadSearch {
public:
    HeadSearch(TextInput& input, char separator, const RecordingOptions& options)
        : input_(input), lines_(input, separator), options_(options) {}

    std::optional<CsvHead> find() {
        bool rows_began = false;
        for (auto record = lines_.next(); record && !rows_began; record = std::move(next_)) {
            next_.reset();
            if (record->is_comment || record->is_blank()) {
                if (record->is_comment) learn(*record);
                next_ = lines_.next();
                continue;
            }
            rows_began = record->is_row();
            if (rows_began && why_not_) break;
            next_ = lines_.next_filled();
            if (auto head = head_named_by(*record)) return head;
            learn(*record);
            has_preamble_ = true;
            was_named_ahead_ = next_ && is_row_of_units(*next_);
        }
        return std::nullopt;
    }

    /// Of the line that most likely names the columns.
    struct Refusal {
        Complaint complaint;
        long long line;
        std::size_t columns;
    };
    const std::optional<Refusal>& why_not() const { return why_not_; }

private:
    std::optional<CsvHead> head_named_by(const CsvRecord& record) {
        try {
            if (!record.complaint.empty()) throw Complaint{record.complaint};
            const bool has_units = next_ && is_row_of_units(*next_);
            CsvHead head{read_csv_layout(record.fields, has_units ? next_->fields : no_units_, preamble_,
                                         lines_.separator(), options_)};
            if (!has_units && !is_followed_by_rows(head.layout))
                throw Complaint{"no rows behind the names of the columns; was anything recorded?"};
            const CsvRecord& last = has_units ? *next_ : record;
            settle_csv_layout(head.layout, has_units ? std::nullopt : next_, lines_);
            head.rows = input_.begin() + last.behind;
            head.line = last.line + last.lines;
            return head;
        } catch (const Complaint& complaint) {
            const bool is_likely = next_ && (next_->is_row() || is_row_of_units(*next_));
            if (!why_not_ || (is_likely && !was_named_ahead_))
                why_not_ = Refusal{complaint, record.line, record.fields.size()};
            return std::nullopt;
        }
    }

    // In a preamble the same names may stand beside others. Where nothing is ahead, the row itself is blamed.
    bool is_followed_by_rows(const CsvLayout& layout) const {
        if (layout.clock) return next_ && next_->is_row();
        if (!has_preamble_) return true;
        const auto is_time = [](const CsvColumn& column) { return column.kind == CsvColumn::Kind::time; };
        const auto time = std::find_if(layout.columns.begin(), layout.columns.end(), is_time);
        return next_ && next_->has_number_at(static_cast<std::size_t>(time - layout.columns.begin()));
    }

    void learn(const CsvRecord& record) {
        if (record.fields.empty()) return;
        std::string_view key = record.fields[0];
        std::string_view value = record.fields.size() > 1 ? std::string_view(record.fields[1]) : "";
        const std::size_t colon = key.find_first_of(":=");
        if (value.empty() && colon != key.npos) {
            value = key.substr(colon + 1);
            key = key.substr(0, colon);
        }
        if (const auto clock = read_clock(key, value)) preamble_.clock = clock;
        auto& units = preamble_.units;
        const std::string name = lower(key);
        if (name == "vertical units") {
            const std::string of_time = units.empty() ? "" : units[0];
            units = record.fields;
            units[0] = of_time;
        } else if (name == "horizontal units") {
            units.resize(std::max<std::size_t>(units.size(), 1));
            units[0] = value;
        }
    }

    TextInput& input_;
    CsvLines lines_;
    const RecordingOptions& options_;
    const std::vector<std::string> no_units_;
    CsvPreamble preamble_;
    bool has_preamble_{false};      // records ahead that don't name the columns
    std::optional<CsvRecord> next_; // behind the one that is looked at
    bool was_named_ahead_{false};   // the record is the row of units of the one ahead
    std::optional<Refusal> why_not_;
};

} // namespace

CsvHead read_csv_head(TextInput& input, const RecordingOptions& options, long long& line) {
    std::optional<HeadSearch::Refusal> likeliest;
    for (const char separator : {',', ';', '\t'}) {
        HeadSearch search(input, separator, options);
        if (auto head = search.find()) return *head;
        const auto& why_not = search.why_not();
        if (why_not && (!likeliest || why_not->columns > likeliest->columns)) likeliest = why_not;
    }
    if (!likeliest) throw Complaint{"nothing but comments; was anything recorded?"};
    line = likeliest->line;
    throw Complaint{likeliest->complaint};
}

} // namespace winkhold::taps::capture
