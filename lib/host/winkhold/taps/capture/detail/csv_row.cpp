#include "winkhold/taps/capture/detail/csv_row.hpp"

#include "winkhold/taps/capture/detail/bytes.hpp"
#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>

namespace winkhold::taps::capture {
namespace {

bool is_gap(char c) {
    return c == ' ' || c == '\t';
}

const char* skip_gap(const char* at) {
    while (is_gap(*at))
        ++at;
    return at;
}

[[noreturn]] void refuse_byte(char c) {
    if (c == '"')
        throw Complaint{"a quote inside a field; put the whole field in quotes and double the inner one"};
    if (c == '\r')
        throw Complaint{"a carriage return inside the line; save the file with LF or CRLF line ends"};
    if (!is_text(c)) throw Complaint{"bytes that are no text; is the recording damaged or cut off here?"};
    throw Complaint{"text behind a closing quote; put a separator there, or double the quote"};
}

} // namespace

std::string_view CsvRow::operator[](std::size_t field) const {
    const std::size_t begin = field == 0 ? 0 : ends_[field - 1];
    std::string_view text(text_.data() + begin, ends_[field] - begin);
    while (!text.empty() && is_gap(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && is_gap(text.back()))
        text.remove_suffix(1);
    return text;
}

const char* CsvRow::split(const char* at, const char* end) {
    text_.clear();
    ends_.clear();
    for (;;) {
        at = skip_gap(at);
        at = *at == '"' ? append_quoted(at + 1, end) : append_plain(at);
        if (at == nullptr) return nullptr;
        ends_.push_back(text_.size());
        if (*at == separator_) {
            ++at;
            continue;
        }
        if (*at == '\r' && at[1] == '\n') ++at;
        if (*at == '\n') return at + 1;
        refuse_byte(*at);
    }
}

const char* CsvRow::append_quoted(const char* at, const char* end) {
    for (;; ++at) {
        const char* const quote = std::find(at, end, '"');
        const auto is_rubbish = [](char c) { return !is_text(c) && c != '\r' && c != '\n'; };
        const char* const rubbish = std::find_if(at, quote, is_rubbish);
        if (rubbish != quote) refuse_byte(*rubbish);
        if (quote == end) return nullptr;
        text_.append(at, quote);
        at = quote + 1;
        if (*at != '"') return skip_gap(at);
        text_ += '"';
    }
}

const char* CsvRow::append_plain(const char* at) {
    const char* const begin = at;
    while (is_text(*at) && *at != separator_ && *at != '"')
        ++at;
    text_.append(begin, at);
    return at;
}

} // namespace winkhold::taps::capture
