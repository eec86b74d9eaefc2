#include "winkhold/taps/capture/detail/csv_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/decimal.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {

CsvSource::CsvSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options)
    : file_(std::move(file)), input_(std::move(input)), at_(input_->begin()), rules_(options) {
    located(file_, line_, [&] { read_header(options); });
}

void CsvSource::read_header(const RecordingOptions& options) {
    const char separator =
        csv_separator({input_->begin(), static_cast<std::size_t>(input_->end() - input_->begin())});
    row_.set_separator(separator);
    const char* const after = split_row();
    layout_ = read_csv_layout(row_, separator, options);
    const bool ends_in_crlf = after - at_ >= 2 && after[-2] == '\r';
    plain_rows_.emplace(layout_, rules_, ends_in_crlf);
    line_ += std::count(at_, after, '\n');
    at_ = after;
}

bool CsvSource::find_edges() {
    found_ = delivered_ = 0;
    return located(file_, line_, [this] {
        while (found_ == 0 && have_line())
            read_rows();
        if (!has_rows_) throw Complaint{"no rows behind the header; was anything recorded?"};
        return found_ > 0;
    });
}

// Reads the plain rows at hand, or one row of any form if there are none.
void CsvSource::read_rows() {
    if (has_rows_) {
        const auto progress = plain_rows_->read(at_, input_->end(), reading_, edges_);
        at_ = progress.at;
        line_ += progress.rows;
        found_ = progress.edges;
        if (progress.rows > 0) return;
    }
    read_any_row();
}

bool CsvSource::refill() {
    const bool more = input_->refill(at_);
    at_ = input_->begin();
    return more;
}

const char* CsvSource::split_row() {
    for (;;) {
        const char* const after = row_.split(at_, input_->end());
        if (after != nullptr) return after;
        if (!refill())
            throw Complaint{"a quote opened here is never closed; close it, or leave the quotes out"};
    }
}

void CsvSource::read_any_row() {
    const char* const after = split_row();
    if (row_.is_blank()) return expect_blank_rest();
    if (row_.size() != layout_.columns.size()) refuse_field_count();
    const CsvReading ahead = reading_;
    for (std::size_t i = 0; i < row_.size(); ++i)
        read_field(layout_.columns[i], row_[i]);
    if (reading_.t_us < ahead.t_us) {
        throw Complaint{
            fmt::format("time goes back from {} us to {} us; sort the rows by time, or split the file where "
                        "a new recording starts",
                        ahead.t_us, reading_.t_us)};
    }
    if (!has_rows_ || reading_.lines != ahead.lines) edges_[found_++] = {reading_.t_us, reading_.lines};
    has_rows_ = true;
    line_ += std::count(at_, after, '\n');
    at_ = after;
}

void CsvSource::read_field(const CsvColumn& column, std::string_view text) {
    switch (column.kind) {
    case CsvColumn::Kind::level:
        if (text != "0" && text != "1") {
            throw Complaint{
                fmt::format("{} is {}, neither 0 nor 1; a column in volts needs a name that ends in _v",
                            column.label, shown(text))};
        }
        reading_.lines = rules_.with_level(reading_.lines, column.tap, text == "1");
        break;
    case CsvColumn::Kind::time:
        reading_.t_us = parse_time_us(text, layout_.time_exponent, column.label, layout_.decimal_mark);
        break;
    case CsvColumn::Kind::volts:
        reading_.lines = rules_.with_volts(reading_.lines, column.tap,
                                           parse_volts(text, column.label, layout_.decimal_mark));
        break;
    case CsvColumn::Kind::ignored:
        break;
    }
}

void CsvSource::expect_blank_rest() {
    while (have_line()) {
        const char* const after = split_row();
        if (!row_.is_blank())
            throw Complaint{"rows go on behind a blank line; was the recording cut? Delete the line"};
        ++line_;
        at_ = after;
    }
}

void CsvSource::refuse_field_count() const {
    const std::size_t expected = layout_.columns.size();
    const std::string_view row(at_, static_cast<std::size_t>(std::find(at_, input_->end(), '\n') - at_));
    const char other = layout_.separator == ',' ? ';' : ',';
    if (row_.size() > expected || row.find(other) != row.npos) {
        throw Complaint{fmt::format(
            "{} fields where the header names {}; expected is {} between columns, as in the header, and no "
            "decimal comma unless semicolons separate and --decimal-comma is given",
            row_.size(), expected, layout_.separator == ',' ? "a comma" : "a semicolon")};
    }
    throw Complaint{fmt::format("{} fields where the header names {}; is the recording cut off here?",
                                row_.size(), expected)};
}

} // namespace winkhold::taps::capture
