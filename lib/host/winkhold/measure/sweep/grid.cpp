#include "winkhold/base/error.hpp"
#include "winkhold/measure/sweep/sweep.hpp"

#include <fmt/format.h>

namespace winkhold::measure {

std::vector<TimeUs> Grid::values() const {
    std::vector<TimeUs> values;
    for (TimeUs value_us = from_us; value_us <= to_us; value_us += step_us) {
        values.push_back(value_us);
        if (step_us == 0) break;
    }
    return values;
}

Grid parse_grid(const std::string& text, const std::string& what) {
    const auto refuse = [&](const std::string& why) {
        throw InputError(fmt::format("{} \"{}\": {}; write from:to:step like 100ms:900ms:20ms, or one value",
                                     what, text, why));
    };
    const std::size_t first = text.find(':');
    if (first == std::string::npos) {
        const TimeUs only_us = parse_duration_us(text, what);
        return {only_us, only_us, 0};
    }
    const std::size_t second = text.find(':', first + 1);
    if (second == std::string::npos || text.find(':', second + 1) != std::string::npos)
        refuse("not three times");
    const Grid grid{parse_duration_us(text.substr(0, first), what),
                    parse_duration_us(text.substr(first + 1, second - first - 1), what),
                    parse_duration_us(text.substr(second + 1), what)};
    if (grid.step_us == 0) refuse("the step is zero");
    if (grid.to_us < grid.from_us) refuse("it ends before it starts");
    if ((grid.to_us - grid.from_us) / grid.step_us >= 100'000) refuse("more than 100,000 values");
    return grid;
}

} // namespace winkhold::measure
