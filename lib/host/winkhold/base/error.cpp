#include "winkhold/base/error.hpp"

#include "winkhold/base/detail/legible.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::base {

namespace {

constexpr std::size_t longest = 1'000; // whatever it quotes, what is wrong and what to do stay in sight

std::string in_one_line(std::string message) {
    if (message.size() > longest) message.replace(longest * 3 / 4, message.size() - longest, " [...] ");
    const auto is_control = [](unsigned char c) { return c < ' '; };
    std::replace_if(message.begin(), message.end(), is_control, '?');
    return legible(message);
}

} // namespace

InputError::InputError(std::string message) : std::runtime_error(in_one_line(std::move(message))) {}

std::string at_line(const std::string& file, long long line, const std::string& what) {
    return line > 0 ? fmt::format("{}:{}: {}", file, line, what) : fmt::format("{}: {}", file, what);
}

} // namespace winkhold::base
