#include "winkhold/base/detail/legible.hpp"

#include <cstdint>

namespace winkhold::base {
namespace {

bool is_between(std::uint32_t code, std::uint32_t first, std::uint32_t last) {
    return first <= code && code <= last;
}

/// C1 controls; line and paragraph separators; marks that turn the direction of writing (Unicode, general
/// category Cc, Zl, Zp, and bidirectional formatting).
bool acts_on_a_terminal(std::uint32_t code) {
    return is_between(code, 0x80, 0x9f) || is_between(code, 0x200e, 0x200f) ||
           is_between(code, 0x2028, 0x202e) || is_between(code, 0x2066, 0x2069) || code == 0x61c;
}

/// Surrogates, and what XML 1.0 forbids.
bool is_no_character(std::uint32_t code) {
    return is_between(code, 0xd800, 0xdfff) || code == 0xfffe || code == 0xffff || code > 0x10ffff;
}

struct Character {
    std::size_t size;
    std::uint32_t code;
};

/// The character at the front of `text`; no_utf8 of one byte if there is none: overlong forms are none (RFC
/// 3629).
Character front(std::string_view text) {
    constexpr Character none{1, no_utf8};
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
    if (byte(0) < 0x80) return {1, byte(0)};
    const std::size_t size = byte(0) >= 0xf0 ? 4 : byte(0) >= 0xe0 ? 3 : 2;
    if (byte(0) < 0xc2 || byte(0) > 0xf4 || text.size() < size) return none;
    std::uint32_t code = byte(0) & (0xffu >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xc0) != 0x80) return none;
        code = code << 6 | (byte(i) & 0x3fu);
    }
    constexpr std::uint32_t least[] = {0x80, 0x800, 0x10000};
    return code < least[size - 2] ? none : Character{size, code};
}

bool is_fit(std::uint32_t code) {
    return code >= 0x20 && code != 0x7f && !acts_on_a_terminal(code) && !is_no_character(code);
}

} // namespace

std::string with_unfit(std::string_view text, std::string (*instead)(std::uint32_t code)) {
    std::string clean;
    while (!text.empty()) {
        const Character character = front(text);
        if (is_fit(character.code))
            clean += text.substr(0, character.size);
        else
            clean += instead(character.code);
        text.remove_prefix(character.size);
    }
    return clean;
}

std::string legible(std::string_view text) {
    return with_unfit(text, [](std::uint32_t code) {
        return std::string(code == '\n' || code == '\r' || code == '\t' ? " " : "?");
    });
}

} // namespace winkhold::base
