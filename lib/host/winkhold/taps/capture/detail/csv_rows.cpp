#include "winkhold/taps/capture/detail/csv_rows.hpp"

#include "winkhold/taps/capture/detail/bytes.hpp"
#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

using Kind = CsvColumn::Kind;

} // namespace

CsvRows::CsvRows(const CsvLayout& layout, const RecordingOptions& options, long long line)
    : layout_(layout), rules_(options), thresholds_(rules_), below_zero_is_off_(rules_.is_off(0)),
      fields_(layout.separator), separator_(layout.separator), decimal_mark_(layout.decimal_mark),
      on_volts_(options.on_volts), line_(line) {
    const auto is_needed = [](const CsvColumn& column) { return column.kind != Kind::ignored; };
    const auto end = std::find_if(layout_.columns.rbegin(), layout_.columns.rend(), is_needed).base();
    needed_ = std::span(layout_.columns.begin(), end);
    for (auto column = layout_.columns.begin(); column != end;) {
        const auto limit = column + std::min<std::ptrdiff_t>(end - column, CsvLevels::most);
        auto next = column + 1;
        if (column->kind == Kind::level)
            next = std::find_if(next, limit, [](const CsvColumn& c) { return c.kind != Kind::level; });
        Step& step = steps_.emplace_back();
        step.kind = column->kind;
        step.exponent = column->exponent;
        if (column->kind == Kind::level) step.levels = CsvLevels(std::span(column, next), separator_, rules_);
        if (column->kind == Kind::volts)
            step.volts = CsvVolts(column->tap, column->exponent, thresholds_, rules_);
        column = next;
    }
}

CsvRows::Progress CsvRows::read(const char* at, const char* end, std::span<Edge> edges) {
    Progress progress{at};
    while (progress.at != end && progress.edges < edges.size()) {
        read_plain_rows(progress, end, edges);
        if (progress.at == end || progress.edges == edges.size()) break;
        if (!read_any_row(progress, end, edges)) break;
    }
    const auto is_lit = [](const Edge& edge) {
        return edge.lines.has(Lines::left) || edge.lines.has(Lines::right);
    };
    had_light_ = had_light_ || std::any_of(edges.data(), edges.data() + progress.edges, is_lit);
    return progress;
}

// Up to a row that is empty, or has a field in any but the usual form.
void CsvRows::read_plain_rows(Progress& progress, const char* end, std::span<Edge> edges) {
    if (rows_ == 0 || on_volts_) return;
    const char* at = progress.at;
    Edge* edge = edges.data() + progress.edges;
    const Edge* const last_edge = edges.data() + edges.size();
    Moment now = now_;
    std::uint64_t rows = rows_;
    while (at != end && edge != last_edge) {
        Moment row = now;
        if (layout_.clock) [[unlikely]]
            row.t_us = layout_.start_us + layout_.clock->at_us(rows);
        const char* const behind = read_plain_row(at, row);
        if (behind == nullptr || row.t_us < now.t_us || row.t_us > latest_us_) break;
        *edge = {row.t_us - origin_us_, row.lines};
        edge += row.lines != now.lines ? 1 : 0;
        now = row;
        ++rows;
        at = behind;
    }
    line_ += static_cast<long long>(rows - rows_);
    rows_ = rows;
    now_ = now;
    progress = {at, static_cast<std::size_t>(edge - edges.data())};
}

inline const char* CsvRows::read_plain_row(const char* at, Moment& row) {
    const Step* const last = steps_.data() + steps_.size() - 1;
    for (Step* step = steps_.data();; ++step) {
        at = read_plain(*step, at, row);
        if (at == nullptr) return nullptr;
        if (step == last) break;
        if (*at++ != separator_) return nullptr;
    }
    if (*at == '\n') return at + 1;
    return behind_line_end(*at == separator_ ? behind_plain_rest(at) : at);
}

// Returns the first byte behind the step's fields, or nullptr if one is in any but the usual form.
inline const char* CsvRows::read_plain(Step& step, const char* at, Moment& row) {
    switch (step.kind) {
    case Kind::level:
        return step.levels.read(at, row.lines);
    case Kind::time: {
        const bool is_negative = *at == '-';
        const auto [behind, digits, exponent] = step.number.read(at + is_negative, decimal_mark_);
        const TimeUs t_us = to_time_us({digits, exponent}, step.exponent);
        row.t_us = is_negative ? -t_us : t_us; // out of range is refused with its row
        return behind;
    }
    case Kind::sample: {
        const auto [behind, digits, exponent] = step.number.read(at, decimal_mark_);
        row.t_us = layout_.start_us + layout_.clock->at_us(digits);
        return exponent == 0 ? behind : nullptr;
    }
    case Kind::volts: {
        const bool is_negative = *at == '-';
        const auto [behind, lines] = step.volts.read(at + is_negative, decimal_mark_, is_negative, row.lines);
        row.lines = lines;
        return (is_negative & !below_zero_is_off_) ? nullptr : behind;
    }
    default:
        while (is_text(*at) && *at != separator_ && *at != '"')
            ++at;
        return at;
    }
}

// Passes the fields behind those needed if they are as many as in the row ahead, and unquoted.
const char* CsvRows::behind_plain_rest(const char* at) const {
    const char* const begin = at;
    std::size_t count = needed_.size();
    for (; is_text(*at) && *at != '"'; ++at)
        count += *at == separator_ ? 1 : 0;
    return count == fields_ahead_ ? at : begin;
}

// False if it goes on beyond `end`.
bool CsvRows::read_any_row(Progress& progress, const char* end, std::span<Edge> edges) {
    const char* const first = progress.at;
    if (const char* const behind = behind_empty_row(first)) {
        progress.at = behind;
        ++line_;
        return true;
    }
    Moment row = now_;
    const char* const behind = read_fields(first, end, row);
    if (behind == nullptr) return false;
    if (rows_ == 0)
        begin(row.t_us);
    else if (row.t_us < now_.t_us || row.t_us > latest_us_)
        refuse_time(row.t_us);
    for (const TapVolts& heard : heard_)
        on_volts_(row.t_us - origin_us_, heard.tap, heard.volts);
    heard_.clear();
    if (rows_ == 0 || row.lines != now_.lines) edges[progress.edges++] = {row.t_us - origin_us_, row.lines};
    now_ = row;
    ++rows_;
    line_ += std::count(first, behind, '\n');
    progress.at = behind;
    return true;
}

const char* CsvRows::read_fields(const char* const first, const char* end, Moment& row) {
    try {
        if (layout_.clock) row.t_us = layout_.start_us + layout_.clock->at_us(rows_);
        const char* at = first;
        for (const CsvColumn& column : needed_) {
            if (&column != needed_.data() && *at++ != separator_) refuse_field_count(first, end);
            std::string_view text;
            at = fields_.take(at, end, text);
            if (at == nullptr) return nullptr;
            read_text(column, text, row);
        }
        return pass_rest(first, at, end);
    } catch (const Complaint&) {
        if (has_other_field_count(first, end)) refuse_field_count(first, end);
        throw;
    }
}

void CsvRows::read_text(const CsvColumn& column, std::string_view text, Moment& row) {
    if (column.kind == Kind::ignored) return;
    if (!layout_.is_mark_sure && text.find(',') != text.npos && text.find('.') == text.npos) {
        decimal_mark_ = ',';
        layout_.is_mark_sure = true;
    }
    if (column.kind == Kind::time && text == column.name)
        throw Complaint{"the names of the columns stand here again; were two recordings put together? "
                        "Split the file here"};
    if (column.kind == Kind::time)
        row.t_us = parse_time_us(text, column.exponent, column.label, decimal_mark_);
    else if (column.kind == Kind::sample)
        row.t_us = time_of_sample(text, column);
    else
        read_tap(column, text, row);
}

TimeUs CsvRows::time_of_sample(std::string_view text, const CsvColumn& column) const {
    const SignedDecimal count = parse_decimal(text, column.label, decimal_mark_);
    const TimeUs number = to_time_us(count.number, 0);
    if (count.negative || number > latest_us || count.number.exponent < 0)
        throw Complaint{fmt::format("{} is {}, no count of samples", column.label, shown(text))};
    return layout_.start_us + layout_.clock->at_us(static_cast<std::uint64_t>(number));
}

void CsvRows::read_tap(const CsvColumn& column, std::string_view text, Moment& row) {
    try {
        if (column.kind == Kind::level) {
            row.lines = rules_.with_level(row.lines, column.tap, parse_level(text, column.label));
            return;
        }
        const double volts = parse_volts(text, column.exponent, column.label, decimal_mark_);
        row.lines = rules_.with_volts(row.lines, column.tap, volts);
        if (on_volts_) heard_.push_back({column.tap, volts});
    } catch (const Complaint& complaint) {
        if (column.is_asked) throw;
        unread_.add(column.tap, row.t_us, complaint.what);
    }
}

bool CsvRows::parse_level(std::string_view text, const std::string& label) const {
    if (text == "0" || text == "1") return text == "1";
    const bool is_decimal = text.find(decimal_mark_) != text.npos || text.find('e') != text.npos;
    const double value = is_decimal ? parse_volts(text, 0, label, decimal_mark_) : 2;
    if (value == 0 || value == 1) return value == 1;
    throw Complaint{
        fmt::format("{} is {}, neither 0 nor 1; a column in volts needs a name that ends in _v or "
                    "(V)",
                    label, shown(text))};
}

// Passes the fields behind the last one that is needed. Empty ones may be missing or be too many.
const char* CsvRows::pass_rest(const char* row, const char* at, const char* end) {
    std::size_t count = needed_.size();
    std::size_t filled = count;
    while (*at == separator_) {
        std::string_view text;
        at = fields_.take(at + 1, end, text);
        if (at == nullptr) return nullptr;
        ++count;
        if (!text.empty()) filled = count;
    }
    if (rows_ == 0) least_fields_ = std::min(filled, layout_.columns.size());
    if (count < least_fields_ || filled > layout_.columns.size()) refuse_field_count(row, end);
    fields_ahead_ = count;
    return behind_line_end(at);
}

const char* CsvRows::behind_empty_row(const char* at) const {
    if (*at > ',' && *at != separator_) return nullptr;
    while (*at == ' ' || *at == '\t' || *at == separator_)
        ++at;
    return behind_line_end(at);
}

void CsvRows::begin(TimeUs t_us) {
    origin_us_ = std::min<TimeUs>(t_us, 0);
    latest_us_ += origin_us_;
    if (t_us > latest_us_) refuse_time(t_us);
}

} // namespace winkhold::taps::capture
