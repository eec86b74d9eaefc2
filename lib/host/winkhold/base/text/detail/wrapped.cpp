#include "winkhold/base/text/detail/wrapped.hpp"

#include <algorithm>

namespace winkhold::base {
namespace {

bool begins_character(char c) {
    return (c & 0xc0) != 0x80;
}

/// Bytes of the first `count` characters.
std::size_t bytes_of(std::string_view text, std::size_t count) {
    std::size_t at = 0;
    for (; at < text.size(); ++at)
        if (begins_character(text[at]) && count-- == 0) break;
    return at;
}

/// Lines as they fill.
class Filling {
public:
    Filling(std::string_view first, std::string_view lead, std::size_t columns)
        : lead_(lead), columns_(columns), text_(first), column_(width_of(first)) {}

    void add(std::string_view word) {
        const std::size_t space = is_fresh_ ? 0 : 1;
        if (column_ + space + width_of(word) > columns_ && (!is_fresh_ || column_ > width_of(lead_)))
            next_line();
        else if (!is_fresh_)
            put(" ");
        while (column_ + width_of(word) > columns_) {
            const std::size_t room = std::max<std::size_t>(1, columns_ - std::min(columns_, column_));
            const std::size_t bytes = bytes_of(word, room);
            if (bytes == word.size()) break;
            put(word.substr(0, bytes));
            word.remove_prefix(bytes);
            next_line();
        }
        put(word);
        is_fresh_ = false;
    }

    std::string finish() {
        trim();
        return std::move(text_) + "\n";
    }

private:
    void put(std::string_view text) {
        text_ += text;
        column_ += width_of(text);
    }
    void next_line() {
        trim();
        (text_ += "\n") += lead_;
        column_ = width_of(lead_);
        is_fresh_ = true;
    }
    void trim() { text_.erase(text_.find_last_not_of(' ') + 1); }

    std::string_view lead_;
    std::size_t columns_;
    std::string text_;
    std::size_t column_;
    bool is_fresh_{true};
};

} // namespace

std::size_t width_of(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), begins_character));
}

std::string wrapped(std::string_view first, std::string_view lead, std::string_view text,
                    std::size_t columns) {
    Filling filling(first, lead, columns);
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        filling.add(text.substr(at, end - at));
        at = end + 1;
    }
    return filling.finish();
}

} // namespace winkhold::base
