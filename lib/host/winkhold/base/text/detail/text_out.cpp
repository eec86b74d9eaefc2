#include "winkhold/base/text/detail/text_out.hpp"

#include <fmt/format.h>
#include <iterator>
#include <ostream>

namespace winkhold::base {

void TextOut::append(std::string_view text) {
    text_ += text;
    flush_if_long();
}

void TextOut::append(std::int64_t number) {
    const fmt::format_int digits(number);
    append(std::string_view(digits.data(), digits.size()));
}

void TextOut::add_formatted(fmt::string_view format, fmt::format_args values) {
    fmt::vformat_to(std::back_inserter(text_), format, values);
    flush_if_long();
}

void TextOut::flush() {
    out_.write(text_.data(), static_cast<std::streamsize>(text_.size()));
    text_.clear();
}

void TextOut::flush_if_long() {
    constexpr std::size_t longest = std::size_t{64} << 10;
    // a stream that passes on each piece as it comes says so by its flag
    if (text_.size() > longest || (out_.flags() & std::ios::unitbuf) != 0) flush();
}

void print_formatted(std::ostream& out, fmt::string_view format, fmt::format_args values) {
    out << fmt::vformat(format, values);
}

} // namespace winkhold::base
