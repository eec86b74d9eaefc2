#include "winkhold/taps/verify/difference.hpp"

#include <algorithm>

namespace winkhold::taps {

TimeUs Difference::t_us() const {
    if (!expected) return got->t_us;
    return got ? std::min(expected->t_us, got->t_us) : expected->t_us;
}

std::optional<Difference> first_difference(const Timeline& expected, const Timeline& answer,
                                           TimeUs tolerance_us) {
    using Kind = Difference::Kind;
    const std::size_t both = std::min(expected.size(), answer.size());
    for (std::size_t i = 0; i < both; ++i) {
        const TimeUs late_us = answer[i].t_us - expected[i].t_us;
        const bool in_time = -tolerance_us <= late_us && late_us <= tolerance_us;
        const bool same = answer[i].indication == expected[i].indication;
        if (same && in_time) continue;
        const Kind kind = !same ? Kind::other : late_us < 0 ? Kind::early : Kind::late;
        return Difference{kind, expected[i], answer[i]};
    }
    if (expected.size() > both) return Difference{Kind::missing, expected[both], {}};
    if (answer.size() > both) return Difference{Kind::extra, {}, answer[both]};
    return {};
}

} // namespace winkhold::taps
