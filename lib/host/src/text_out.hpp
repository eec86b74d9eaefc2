/// Text on its way to a stream, in large pieces.
#pragma once

#include <fmt/format.h>
#include <iterator>
#include <ostream>

namespace winkhold::host {

/// What is left is passed on with flush().
class TextOut {
public:
    explicit TextOut(std::ostream& out) : out_(out) {}

    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        fmt::format_to(std::back_inserter(text_), format, std::forward<Values>(values)...);
        if (text_.size() > longest) flush();
    }

    void flush() {
        out_.write(text_.data(), static_cast<std::streamsize>(text_.size()));
        text_.clear();
    }

private:
    static constexpr std::size_t longest = std::size_t{64} << 10;

    std::ostream& out_;
    fmt::memory_buffer text_;
};

} // namespace winkhold::host
