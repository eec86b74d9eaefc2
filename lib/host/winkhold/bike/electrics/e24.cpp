#include "winkhold/bike/electrics/e24.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace winkhold::bike {
namespace {

constexpr int series[] = {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33,
                          36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91, 100};
constexpr double close = 1e-6; ///< 510.0000001 is 510

double decade(double ohm) {
    return std::pow(10, std::floor(std::log10(ohm)) - 1);
}

} // namespace

double e24_up(double ohm) {
    ohm = std::max(ohm, 1.0) * (1 - close);
    const double unit = decade(ohm);
    return unit * *std::lower_bound(std::begin(series), std::end(series), ohm / unit);
}

double e24_down(double ohm) {
    ohm = std::max(ohm, 1.0) * (1 + close);
    const double unit = decade(ohm);
    return unit * *std::prev(std::upper_bound(std::begin(series), std::end(series), ohm / unit));
}

} // namespace winkhold::bike
