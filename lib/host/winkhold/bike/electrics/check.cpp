#include "winkhold/bike/electrics/check.hpp"

#include <cmath>

namespace winkhold::bike {

Check judged(std::string part, std::string what, double value, Bound bound, double limit, std::string unit,
             std::string source, std::string advice) {
    Check check{std::move(part), std::move(what),   CheckVerdict::passed, value, limit, bound,
                std::move(unit), std::move(source), std::move(advice)};
    // A sum that is right but for its last digits is right.
    const double slack = 1e-9 * std::abs(limit);
    const bool good = bound == Bound::at_most ? value <= limit + slack : value >= limit - slack;
    if (std::isnan(value))
        check.verdict = CheckVerdict::not_judged;
    else if (!good)
        check.verdict = CheckVerdict::finding;
    return check;
}

Check judged(std::string part, std::string what, bool good, std::string source, std::string advice) {
    Check check;
    check.part = std::move(part);
    check.what = std::move(what);
    check.verdict = good ? CheckVerdict::passed : CheckVerdict::finding;
    check.source = std::move(source);
    check.advice = std::move(advice);
    return check;
}

Check not_judged(std::string part, std::string what, std::string missing) {
    Check check;
    check.part = std::move(part);
    check.what = std::move(what);
    check.advice = std::move(missing);
    return check;
}

} // namespace winkhold::bike
