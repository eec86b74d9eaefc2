/// One judgement of the electrics: a figure, the limit it is held to, and where that limit is from.
#pragma once

#include "winkhold/base/wings.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::bike {

/// Not judged: something it takes is not known. Never taken for passed.
enum class CheckVerdict { passed, finding, not_judged };

/// On which side of its limit a value must stay; equality passes.
enum class Bound { at_most, at_least };

/// One judgement: a value, its limit, and what to do if it is beyond.
struct Check {
    std::string part; ///< "front end", "board", or a lamp group's name
    std::string what; ///< what is judged
    CheckVerdict verdict{CheckVerdict::not_judged};
    std::optional<double> value; ///< none: a matter of yes or no, or not judged
    std::optional<double> limit;
    Bound bound{Bound::at_most};
    std::string unit;
    std::string
        source; ///< of the limit, with its mark: read, quoted, derived, from memory; or common practice
    std::string advice; ///< finding: what to do; not judged: what is missing, or a clause that says so
    /// Facts of the bike that it takes, as Vehicle::given() names them: "board.reverse". Not judged: those
    /// that keep it from being judged, as `advice` tells; empty if `advice` is what is missing.
    std::vector<std::string> rests_on{};
};

/// In the order in which they are told.
using Checks = std::vector<Check>;

/// Holds `value` to `limit`; equality passes. Not a number is not judged.
Check judged(std::string part, std::string what, double value, Bound bound, double limit, std::string unit,
             std::string source, std::string advice);
/// A matter of yes or no.
Check judged(std::string part, std::string what, bool good, std::string source, std::string advice);
/// What can't be judged, since the file does not give `missing`. Never taken for passed.
Check not_judged(std::string part, std::string what, std::string missing);

/// Fields of the vehicle file: "board.tvs_v", "lamps.2.led_v".
using FieldNames = std::vector<std::string>;

/// The names of keys in `table`: "board", "lamps.2".
FieldNames fields_in(const std::string& table, std::initializer_list<const char*> keys);
/// All of both.
FieldNames operator+(FieldNames one, const FieldNames& other);
/// The same check, resting on these fields, too; one that is not judged rests on nothing.
Check resting_on(const FieldNames& fields, Check check);
/// All checks from the `first` on.
void rest_on(const FieldNames& fields, Checks& checks, std::size_t first);

} // namespace winkhold::bike
