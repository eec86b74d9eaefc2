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

FieldNames fields_in(const std::string& table, std::initializer_list<const char*> keys) {
    FieldNames fields;
    for (const char* key : keys)
        fields.push_back(table + "." + key);
    return fields;
}

FieldNames operator+(FieldNames one, const FieldNames& other) {
    one.insert(one.end(), other.begin(), other.end());
    return one;
}

Check resting_on(const FieldNames& fields, Check check) {
    if (check.verdict == CheckVerdict::not_judged) return check;
    check.rests_on.insert(check.rests_on.end(), fields.begin(), fields.end());
    return check;
}

void rest_on(const FieldNames& fields, Checks& checks, std::size_t first) {
    for (std::size_t i = first; i < checks.size(); ++i)
        checks[i] = resting_on(fields, std::move(checks[i]));
}

} // namespace winkhold::bike
