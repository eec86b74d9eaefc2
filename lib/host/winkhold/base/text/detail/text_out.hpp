/// Text on its way to a stream, in large pieces.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <fmt/core.h>
#include <iosfwd>
#include <string>
#include <string_view>

namespace winkhold::base {

/// What is left is passed on with flush(), or at the end, even if that comes by an exception.
class TextOut {
public:
    explicit TextOut(std::ostream& out) : out_(out) {}
    ~TextOut() { flush(); }
    TextOut(const TextOut&) = delete;
    TextOut& operator=(const TextOut&) = delete;

    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        add_formatted(format, fmt::make_format_args(values...));
    }
    void append(std::string_view text);
    void append(std::int64_t number);

    void flush();

private:
    void add_formatted(fmt::string_view format, fmt::format_args values);
    void flush_if_long();

    std::ostream& out_;
    std::string text_;
};

/// Out of line, so that what formats is compiled once.
void print_formatted(std::ostream& out, fmt::string_view format, fmt::format_args values);

template <class... Values>
void print_to(std::ostream& out, fmt::format_string<Values...> format, Values&&... values) {
    print_formatted(out, format, fmt::make_format_args(values...));
}

} // namespace winkhold::base
