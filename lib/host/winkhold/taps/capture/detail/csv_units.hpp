/// Units, as the names of columns carry them and as rows beside the names give them.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>

namespace winkhold::taps::capture {

struct CsvUnit {
    enum class Of { nothing, time, volts, other };

    Of of{Of::nothing}; ///< nothing: no unit that is known
    int exponent{0};    ///< of time: 10^exponent us; of volts: 10^exponent V
};

/// Reads "ms", "Volt" or "(V)".
CsvUnit read_unit(std::string_view text);

/// "Time [ms]", "t/s", "CH1V" or "left_v", taken apart.
struct CsvName {
    std::string_view bare;
    std::string_view unit_text; ///< empty: none
    CsvUnit unit{};
};

CsvName take_apart(std::string_view name);

std::string lower(std::string_view text);

} // namespace winkhold::taps::capture
