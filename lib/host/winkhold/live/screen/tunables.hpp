/// The decoder's settings as somebody changes them by keys.
#pragma once

#include "winkhold/core/settings.hpp"

#include <cstddef>

namespace winkhold::live {

/// The setting so numbered in named_settings, so many steps up or down: 1 ms for short times, 10 and 50 ms
/// for longer ones, the next word for words. What the core's check() or a bike doesn't allow stays as it was.
core::Settings stepped(const core::Settings& settings, std::size_t which, int steps);

} // namespace winkhold::live
