/// How wide a text is.
#pragma once

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

namespace winkhold::testing {

/// Characters, not bytes: those of UTF-8 that begin one.
inline std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xc0) != 0x80; }));
}

inline std::vector<std::string> too_wide(const std::string& text, std::size_t columns = 80) {
    std::vector<std::string> found;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        if (characters(line) > columns) found.push_back(line);
    return found;
}

} // namespace winkhold::testing
