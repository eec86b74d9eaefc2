#include "winkhold/taps/capture/detail/csv_field.hpp"

#include "winkhold/taps/capture/detail/bytes.hpp"
#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>

namespace winkhold::taps::capture {
namespace {

[[noreturn]] void refuse_byte(char c) {
    if (c == '"')
        throw Complaint{"a quote inside a field; put the whole field in quotes and double the inner one"};
    if (c == '\r')
        throw Complaint{"a carriage return inside the line; save the file with LF or CRLF line ends"};
    if (!is_text(c)) throw Complaint{"bytes that are no text; is the recording damaged or cut off here?"};
    throw Complaint{"text behind a closing quote; put a separator there, or double the quote"};
}

} // namespace

const char* CsvFields::skip_gap(const char* at) const {
    while (is_gap(*at))
        ++at;
    return at;
}

std::string_view CsvFields::trimmed(std::string_view text) const {
    while (!text.empty() && is_gap(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && is_gap(text.back()))
        text.remove_suffix(1);
    return text;
}

const char* CsvFields::take(const char* at, const char* end, std::string_view& text) {
    at = skip_gap(at);
    if (*at == '"') {
        at = take_quoted(at + 1, end);
        if (at == nullptr) return nullptr;
        text = trimmed(unquoted_);
    } else {
        const char* const begin = at;
        while (is_text(*at) && *at != separator_ && *at != '"')
            ++at;
        text = trimmed({begin, static_cast<std::size_t>(at - begin)});
    }
    if (*at != separator_ && behind_line_end(at) == nullptr) refuse_byte(*at);
    return at;
}

const char* CsvFields::take_quoted(const char* at, const char* end) {
    unquoted_.clear();
    for (;; ++at) {
        const char* const quote = std::find(at, end, '"');
        const auto is_rubbish = [](char c) { return !is_text(c) && c != '\r' && c != '\n'; };
        const char* const rubbish = std::find_if(at, quote, is_rubbish);
        if (rubbish != quote) refuse_byte(*rubbish);
        if (quote == end) return nullptr;
        unquoted_.append(at, quote);
        at = quote + 1;
        if (*at != '"') return skip_gap(at);
        unquoted_ += '"';
    }
}

} // namespace winkhold::taps::capture
