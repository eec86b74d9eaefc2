// Must not compile: firmware's own check of its settings fails.
#include "winkhold/core/core.hpp"

constexpr winkhold::core::Settings hold_below_settle() {
    winkhold::core::Settings s;
    s.settle_us = 20000;
    s.hold_us = 10000;
    return s;
}
static_assert(winkhold::core::check(hold_below_settle()) == winkhold::core::SettingsError::none, "");
