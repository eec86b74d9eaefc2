/// Names that the reports of fit share.
#pragma once

#include "winkhold/host/waveform/scenario.hpp"

#include <string_view>

namespace winkhold::host {

inline constexpr SideChange all_side_changes[] = {SideChange::restart, SideChange::free_running,
                                                  SideChange::whole_cycle};

/// As scenarios spell it.
constexpr std::string_view name(SideChange model) {
    constexpr std::string_view names[] = {"restart", "free-running", "whole-cycle"};
    return names[static_cast<std::size_t>(model)];
}

} // namespace winkhold::host
