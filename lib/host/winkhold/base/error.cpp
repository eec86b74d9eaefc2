#include "winkhold/base/error.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::base {

namespace {

std::string in_one_line(std::string message) {
    const auto is_control = [](unsigned char c) { return c < ' ' || c == 127; };
    std::replace_if(message.begin(), message.end(), is_control, '?');
    return message;
}

} // namespace

InputError::InputError(std::string message) : std::runtime_error(in_one_line(std::move(message))) {}

std::string at_line(const std::string& file, long long line, const std::string& what) {
    return line > 0 ? fmt::format("{}:{}: {}", file, line, what) : fmt::format("{}: {}", file, what);
}

} // namespace winkhold::base
