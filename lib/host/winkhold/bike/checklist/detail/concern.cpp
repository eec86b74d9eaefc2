#include "winkhold/bike/checklist/detail/concern.hpp"

#include "winkhold/base/joined.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using core::Job;

bool has_stop_and_tail_in_one(const Lamps& lamps) {
    return std::any_of(lamps.begin(), lamps.end(), [](const LampGroup& group) {
        return group.plays.job == Job::stop && group.plays.dimmed > 0;
    });
}

/// A group that doesn't say where it is may be there.
bool has_turn_at(const Lamps& lamps, std::optional<LampEnd> at) {
    return std::any_of(lamps.begin(), lamps.end(), [&](const LampGroup& group) {
        return group.plays.job == Job::turn && (!at || !group.at || group.at == at);
    });
}

/// Some of these lamps are what the limit is about.
bool shows(const Lamps& lamps, const Limit& limit) {
    switch (limit.measure) {
    case LimitMeasure::stop_lamp_delay:
        return std::any_of(lamps.begin(), lamps.end(),
                           [](const LampGroup& group) { return group.plays.job == Job::stop; });
    case LimitMeasure::stop_to_tail:
        return has_stop_and_tail_in_one(lamps);
    case LimitMeasure::side_phase:
        return has_turn_at(lamps, LampEnd::front) && has_turn_at(lamps, LampEnd::rear);
    case LimitMeasure::to_headlamp:
        return has_turn_at(lamps, LampEnd::front);
    case LimitMeasure::to_stop_lamp:
    case LimitMeasure::ahead_of_rear:
        return has_turn_at(lamps, LampEnd::rear);
    default:
        return !is_of_turn_lamps(limit.measure) || has_turn_at(lamps, limit.at);
    }
}

} // namespace

std::string bounds_text(const Limit& limit) {
    std::vector<std::string> texts;
    if (limit.least) texts.push_back(fmt::format("at least {:.6g} {}", *limit.least, name(limit.unit)));
    if (limit.most) texts.push_back(fmt::format("at most {:.6g} {}", *limit.most, name(limit.unit)));
    return joined(texts, ", ");
}

bool has_fill(const Lamps& lamps) {
    return std::any_of(lamps.begin(), lamps.end(), [](const LampGroup& group) {
        return group.plays.job == Job::turn && !group.plays.all_at_once();
    });
}

Concern concern_of(const Limit& limit, const Lamps& lamps) {
    if (!limit.only_if.empty()) return Concern::none;
    if (name(limit.measure).starts_with("sequence-") && !has_fill(lamps)) return Concern::none;
    if (limit.measure == LimitMeasure::by_hand || !shows(lamps, limit)) return Concern::by_hand;
    return Concern::judged;
}

} // namespace winkhold::bike
