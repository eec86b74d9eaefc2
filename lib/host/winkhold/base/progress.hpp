/// How far long work has come.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <functional>

namespace winkhold::base {

/// Told now and then how much of all is done; never by two threads at once.
using Progress = std::function<void(std::int64_t done, std::int64_t all)>;

} // namespace winkhold::base
