#include "winkhold/base/text/caution.hpp"

#include <algorithm>

namespace winkhold::base {

std::string caution_line() {
    std::string line(caution.substr(0, caution.size() - 1));
    std::replace(line.begin(), line.end(), '\n', ' ');
    return line;
}

} // namespace winkhold::base
