/// Third pass of the reference decoder: both lines' flashes -> which side ends when, whatever its hold says.
#pragma once

#include "reference/flashes.hpp"

#include <array>

namespace winkhold::reference {

/// What happens at one moment happens in this order.
enum class Order {
    falls,
    rises,
    silence, ///< what time alone ends
};

/// A side is let go: not shown until it rises again.
struct LetGo {
    TimeUs t_us{0};
    Order order{Order::silence};
};

/// A newcomer is not shown yet, from `from_us` to before `to_us`.
struct Hidden {
    TimeUs from_us{0};
    TimeUs to_us{0};
};

struct Verdicts {
    std::vector<LetGo> let_go; ///< not in order
    std::vector<Hidden> hidden;
};

using BothFlashes = std::array<std::vector<Flash>, 2>; ///< left, right

std::array<Verdicts, 2> verdicts(const BothFlashes& flashes, const std::vector<Stretch>& supply,
                                 const core::Settings& settings);

} // namespace winkhold::reference
