#include "winkhold/taps/capture/detail/complaint.hpp"

#include "winkhold/taps/capture/detail/bytes.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

constexpr std::size_t longest_shown = 40;
constexpr std::size_t most_listed = 24;

std::string printable(std::string_view text) {
    std::string clean(text.substr(0, longest_shown));
    if (text.size() > clean.size()) {
        const auto is_continuation = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; };
        if (is_continuation(text[clean.size()])) {
            while (!clean.empty() && is_continuation(clean.back()))
                clean.pop_back();
            if (!clean.empty()) clean.pop_back();
        }
        clean += "...";
    }
    std::replace_if(
        clean.begin(), clean.end(), [](char c) { return !is_text(c); }, '?');
    return clean;
}

} // namespace

std::string shown(std::string_view text) {
    return fmt::format("\"{}\"", printable(text));
}

std::string listed(const std::vector<std::string>& names) {
    std::string list = names.empty() ? "none" : "";
    for (std::size_t i = 0; i < std::min(names.size(), most_listed); ++i) {
        list += fmt::format("{}{}", i == 0 ? "" : ", ", printable(names[i]));
    }
    if (names.size() > most_listed) list += fmt::format(" and {} more", names.size() - most_listed);
    return list;
}

} // namespace winkhold::taps::capture
