/// How far long work has come.
#pragma once

#include <cstdint>
#include <functional>

namespace winkhold::host {

/// Told now and then how much of all is done; never by two threads at once.
using Progress = std::function<void(std::int64_t done, std::int64_t all)>;

} // namespace winkhold::host
