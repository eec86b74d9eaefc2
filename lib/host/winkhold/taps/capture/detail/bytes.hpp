/// Which bytes a recording may hold.
#pragma once

#include "winkhold/base/wings.hpp"

namespace winkhold::taps::capture {

/// White space, as it separates the words of a VCD file.
constexpr bool is_space(char c) {
    return c == ' ' || (c >= '\t' && c <= '\r');
}

/// True for bytes a text may hold inside a line. Bytes above 127 pass: names may be in UTF-8.
constexpr bool is_text(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte >= ' ' && byte != 127) || byte == '\t';
}

} // namespace winkhold::taps::capture
