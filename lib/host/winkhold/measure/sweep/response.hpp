/// How counts and figures respond to the swept setting: exact for every value, not only for grid points.
#pragma once

#include "winkhold/base/time.hpp"

#include <cstdint>
#include <limits>
#include <vector>

namespace winkhold::measure {

/// The swept value (`hold` or `guard`). Unit: us. Range: [0, 5 s].
inline constexpr TimeUs longest_value_us = 5'000'000;

/// Something that happens for swept values in [from, to).
struct ValueSpan {
    TimeUs from_us;
    TimeUs to_us;
};

/// How often something happens, as a function of the swept value.
class CountResponse {
public:
    static constexpr TimeUs everywhere_us = std::numeric_limits<std::int32_t>::max();

    /// Happens once for values in [from, to); spans outside [0, 5 s] are cut.
    void add(ValueSpan span);
    /// Takes all spans of the other over; sort() again afterwards.
    void append(const CountResponse& other);
    /// Call once after the last add() and before count().
    void sort();

    /// How many spans hold this value. Unit: us, range [0, 5 s].
    std::int64_t count(TimeUs value_us) const;
    /// Least value >= `from_us` at which at most `most` are counted; -1 if there is none up to 5 s.
    /// A count that never rises with the value (no span starts above 0) is searched, others walked.
    TimeUs least_value_us(std::int64_t most, TimeUs from_us) const;

private:
    std::vector<std::int32_t> starts_us_; ///< only those above 0
    std::vector<std::int32_t> ends_us_;   ///< only those up to 5 s
    std::int64_t at_zero_{0};             ///< how many spans begin at 0
};

/// One figure for each of many events, as functions of the swept value v. Unit: us.
/// Nearly all are one ramp, max(0, min(v + offset, ceiling)); a few are several straight pieces.
class FigureResponse {
public:
    /// max(0, min(v + offset, ceiling)) of the swept value v.
    struct Ramp {
        TimeUs offset_us;
        TimeUs ceiling_us;
    };
    /// From v = from_us on the figure is max(0, min(v + offset, ceiling)), until the next stretch.
    struct Stretch {
        TimeUs from_us;
        Ramp ramp;
    };

    /// One more event, whose figure is one ramp.
    void add(Ramp ramp);
    /// One more event, whose figure does not depend on the swept value.
    void add_constant(TimeUs value_us) { add(Ramp{longest_value_us, value_us}); }
    /// Stretches in order, the first from 0.
    void add_stretches(const std::vector<Stretch>& stretches);
    /// The sum of several ramps is one figure.
    void add_sum(const std::vector<Ramp>& ramps);
    /// Takes all events of the other over.
    void append(const FigureResponse& other);

    /// How many events there are.
    std::size_t size() const { return offsets_us_.size() + stretched_.size() + summed_.size(); }
    /// The figures of all events at one value, in no particular order. Resizes `values_us`.
    void evaluate(TimeUs value_us, std::vector<std::int32_t>& values_us) const;
    /// Only the figures that are not one ramp.
    void evaluate_pieced(TimeUs value_us, std::vector<std::int32_t>& values_us) const;
    /// Some figures are not one ramp.
    bool any_pieced() const { return !stretched_.empty() || !summed_.empty(); }
    /// The figures that are one ramp.
    const std::vector<std::int32_t>& offsets_us() const { return offsets_us_; }
    /// Of the same figures, in the same order. Unit: us.
    const std::vector<std::int32_t>& ceilings_us() const { return ceilings_us_; }

private:
    std::vector<std::int32_t> offsets_us_;
    std::vector<std::int32_t> ceilings_us_;
    std::vector<std::vector<Stretch>> stretched_;
    std::vector<std::vector<Ramp>> summed_;
};

} // namespace winkhold::measure
