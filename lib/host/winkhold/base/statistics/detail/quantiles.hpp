/// Quantiles of the distributions that intervals rest on: `share` of them lies below. Boost.Math is in
/// quantiles.cpp alone.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>

namespace winkhold::base {

double normal_quantile(double share);
/// Student's t; more than 0 degrees of freedom.
double t_quantile(double degrees, double share);
/// More than 0 degrees of freedom.
double chi_squared_quantile(double degrees, double share);

/// One-sided bounds of a rate of which `count` hits in `tries` were seen, too far off with probability
/// `alpha`: exact binomial (Clopper and Pearson, Biometrika 26 (1934) 404). 0 without a hit, 1 if every try
/// hit or there was none.
double binomial_lower(std::int64_t count, std::int64_t tries, double alpha);
double binomial_upper(std::int64_t count, std::int64_t tries, double alpha);

} // namespace winkhold::base
