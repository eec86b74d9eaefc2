#include "winkhold/base/statistics/detail/quantiles.hpp"

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

namespace winkhold::base {
namespace {
using Binomial = boost::math::binomial_distribution<>;
}

double normal_quantile(double share) {
    return boost::math::quantile(boost::math::normal(), share);
}

double t_quantile(double degrees, double share) {
    return boost::math::quantile(boost::math::students_t(degrees), share);
}

double chi_squared_quantile(double degrees, double share) {
    return boost::math::quantile(boost::math::chi_squared(degrees), share);
}

double binomial_lower(std::int64_t count, std::int64_t tries, double alpha) {
    if (count <= 0) return 0;
    return Binomial::find_lower_bound_on_p(static_cast<double>(tries), static_cast<double>(count), alpha);
}

double binomial_upper(std::int64_t count, std::int64_t tries, double alpha) {
    if (count >= tries) return 1;
    return Binomial::find_upper_bound_on_p(static_cast<double>(tries), static_cast<double>(count), alpha);
}

} // namespace winkhold::base
