/// How often which length was seen, in memory that does not grow.
#pragma once

#include "winkhold/base/time.hpp"

#include <array>

namespace winkhold::taps {

/// Lengths from 1 us to about 1 s in classes 1.5 % wide.
class RunLengths {
public:
    /// One length; those below 1 us or beyond the last class count into the nearest one.
    void add(TimeUs us);

    /// How many lengths.
    std::int64_t count() const { return count_; }
    /// Of all lengths, exactly.
    double sum_us() const { return sum_us_; }
    /// Mean of the class that holds this quantile and of its neighbours on both sides; 0 if nothing was seen.
    /// `share` from 0 to 1.
    double quantile_us(double share) const;
    /// Share of the lengths whose class lies within `off_us` of `us`; 0 if nothing was seen.
    double share_near(double us, double off_us) const;

private:
    static constexpr int per_octave = 48;
    static constexpr int classes = 20 * per_octave;
    struct Class {
        std::int64_t count{0};
        double sum_us{0};
    };

    std::array<Class, classes> seen_{};
    std::int64_t count_{0};
    double sum_us_{0};
};

} // namespace winkhold::taps
