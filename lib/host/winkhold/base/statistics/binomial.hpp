/// How sure is a rate that was counted?
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>

namespace winkhold::base {

/// One-sided 95 % upper bound of a rate after `count` hits in `tries`: exact binomial (Clopper and Pearson,
/// Biometrika 26 (1934) 404). 1 if `tries` is 0 or every try hit.
double upper95(std::int64_t count, std::int64_t tries);

/// The most hits in `tries` whose upper95() is still <= `target`; -1 if not even 0 hits suffice.
std::int64_t most_hits(double target, std::int64_t tries);

/// The fewest tries without a hit whose upper95() is <= `target`.
std::int64_t fewest_tries(double target);

} // namespace winkhold::base
