#include "winkhold/base/statistics/binomial.hpp"
#include "winkhold/measure/sweep/sweep.hpp"

#include <fmt/format.h>

namespace winkhold::measure {

Choice choose(const Sweep& sweep, const Responses& responses) {
    const bool paced = sweep.plan.settings.rule == core::HoldRule::paced;
    const char* const what = paced ? "guard" : "hold";
    const double target = sweep.plan.target;
    // over many bikes dropouts cluster by bike, so it is bikes that are counted
    const char* const unit = sweep.population ? "bikes" : "flashes";
    const std::int64_t tries = sweep.population ? sweep.bikes : sweep.flashes;
    const CountResponse& hits = sweep.population ? responses.bikes_with_dropout : responses.dropouts;
    Choice choice;
    const std::int64_t most = most_hits(target, tries);
    if (most < 0) {
        choice.reason =
            fmt::format("{} {} can't prove a dropout rate of {:g}: even without a single dropout it "
                        "takes {} {}; raise --trials or --target",
                        tries, unit, target, fewest_tries(target), unit);
        return choice;
    }
    choice.exact_us = hits.least_value_us(most, sweep.plan.grid.from_us);
    for (std::size_t i = 0; i < sweep.curve.size(); ++i) {
        const CurvePoint& point = sweep.curve[i];
        const std::int64_t count = sweep.population ? point.bikes_with_dropout : point.dropouts;
        if (count > most) continue;
        choice.point = i;
        choice.reason = fmt::format(
            "least {} of the sweep whose 95 % upper bound on the share of {} with a dropout, {:.2g}, "
            "is no more than {:g}",
            what, unit, upper95(count, tries), target);
        return choice;
    }
    const CurvePoint& last = sweep.curve.back();
    const std::int64_t count = sweep.population ? last.bikes_with_dropout : last.dropouts;
    choice.reason =
        fmt::format("even at a {} of {} there are {} {} with a dropout in {}; the target of {:g} allows "
                    "{}",
                    what, format_duration(sweep.plan.grid.to_us), count, unit, tries, target, most);
    if (choice.exact_us >= 0 && choice.exact_us <= core::built_in::longest_hold_us)
        choice.reason += fmt::format("; a {} of {} would meet it", what, format_duration(choice.exact_us));
    return choice;
}

} // namespace winkhold::measure
