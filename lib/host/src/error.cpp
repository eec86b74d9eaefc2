#include "winkhold/host/error.hpp"

#include <fmt/format.h>

namespace winkhold::host {

std::string at_line(const std::string& file, long long line, const std::string& what) {
    return line > 0 ? fmt::format("{}:{}: {}", file, line, what) : fmt::format("{}: {}", file, what);
}

} // namespace winkhold::host
