/// One pass: a ride's settled phases and its truth, reduced to responses to the swept setting.
#pragma once

#include "winkhold/measure/score/figures.hpp"
#include "winkhold/measure/sweep/response.hpp"
#include "winkhold/taps/trace/phases.hpp"

namespace winkhold::measure {

/// Everything a sweep knows, for every value of the swept setting at once. Rules of counting: see Figures.
struct Responses {
    std::int64_t flashes{0};
    std::int64_t bikes{0}; ///< trials
    CountResponse dropouts;
    CountResponse bikes_with_dropout;
    CountResponse false_shows;
    CountResponse missed;
    FigureResponse overlap;
    FigureResponse release;
    FigureResponse acquire;

    /// `other` holds later rides.
    void append(const Responses& other);
    /// Call once after the last ride and before at().
    void sort();
    /// The figures at one value; equal to score() of a full replay at that value.
    Figures at(TimeUs value_us) const;
};

/// Adds one ride.
void reduce(const Phases& phases, const Truth& truth, Responses& responses);

} // namespace winkhold::measure
