#include "winkhold/base/text/detail/legible.hpp"

#include <cstdint>

namespace winkhold::base {
namespace {

/// How many bytes the character at the front of `text` takes; 0 if there is none that fits. Overlong forms,
/// surrogates and U+FFFE/U+FFFF don't (RFC 3629; XML 1.0, production 2).
std::size_t character_size(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
    if (byte(0) < 0x80) return byte(0) >= 0x20 && byte(0) != 0x7f ? 1 : 0;
    const std::size_t size = byte(0) >= 0xf0 ? 4 : byte(0) >= 0xe0 ? 3 : 2;
    if (byte(0) < 0xc2 || byte(0) > 0xf4 || text.size() < size) return 0;
    std::uint32_t code = byte(0) & (0xffu >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xc0) != 0x80) return 0;
        code = code << 6 | (byte(i) & 0x3fu);
    }
    constexpr std::uint32_t least[] = {0x80, 0x800, 0x10000};
    const bool is_surrogate = code >= 0xd800 && code < 0xe000;
    return code < least[size - 2] || is_surrogate || code == 0xfffe || code == 0xffff || code > 0x10ffff
               ? 0
               : size;
}

} // namespace

std::string legible(std::string_view text) {
    std::string clean;
    while (!text.empty()) {
        const std::size_t size = character_size(text);
        if (size != 0)
            clean += text.substr(0, size);
        else
            clean += text[0] == '\n' || text[0] == '\r' || text[0] == '\t' ? ' ' : '?';
        text.remove_prefix(size != 0 ? size : 1);
    }
    return clean;
}

} // namespace winkhold::base
