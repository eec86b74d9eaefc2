// What lamps read: their geometry, their sequence, both ends of a side, the stop lamps.
#include "winkhold/bike/limits/detail/readings.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace winkhold::bike {
namespace {

bool lights_in_turn(const core::LampGroup& group) {
    return group.job == core::Job::turn && !group.all_at_once() &&
           group.pattern.fills == core::Pattern::Fills::lamps;
}

/// Per group that lights in turn: how many of its flashes do not keep `law`.
Readings count_flashes(std::span<const Observed> observed, const Lamps& lamps, bool LampFlash::*law) {
    Readings readings;
    for (std::size_t group = 0; group < lamps.size(); ++group) {
        if (!lights_in_turn(lamps[group].plays)) continue;
        std::int64_t flashes = 0;
        Reading reading{.where = lamps[group].name};
        for (const Observed& ride : observed)
            for (const LampFlash& flash : ride.flashes) {
                if (flash.group != group) continue;
                ++flashes;
                if (flash.*law) continue;
                if (reading.for_most == 0) {
                    reading.at_us = flash.start_us;
                    reading.trial = ride.trial;
                }
                reading.for_least = ++reading.for_most;
            }
        if (flashes > 0)
            readings.all.push_back(reading);
        else
            readings.unknown.push_back(fmt::format("{}: no flash was seen", lamps[group].name));
    }
    return readings;
}

Readings read_fill_times(const Limit& limit, std::span<const Observed> observed, const Lamps& lamps) {
    Readings readings;
    for (std::size_t group = 0; group < lamps.size(); ++group) {
        if (!lights_in_turn(lamps[group].plays)) continue;
        std::int64_t flashes = 0, unfinished = 0;
        for (const Observed& ride : observed)
            for (const LampFlash& flash : ride.flashes) {
                if (flash.group != group) continue;
                Reading reading{.where = lamps[group].name, .at_us = flash.start_us, .trial = ride.trial};
                reading.at_least = flash.full_us == never_us;
                reading.for_most = reading.for_least =
                    static_cast<double>((reading.at_least ? flash.end_us : flash.full_us) - flash.start_us);
                ++flashes;
                const bool tells =
                    !reading.at_least || reading.for_most > limit.most.value_or(0) * scale(limit.unit);
                if (tells) readings.all.push_back(reading);
                unfinished += !tells && !flash.may_be_cut;
            }
        if (flashes == 0) readings.unknown.push_back(fmt::format("{}: no flash was seen", lamps[group].name));
        if (unfinished > 0)
            readings.unknown.push_back(fmt::format("{}: {} of {} flashes end before the last lamp lights",
                                                   lamps[group].name, unfinished, flashes));
    }
    return readings;
}

Readings read_geometry(const Limit& limit, const Lamps& lamps) {
    const bool gap = limit.measure == LimitMeasure::sequence_gap;
    Readings readings;
    for (const LampGroup& group : lamps) {
        if (!lights_in_turn(group.plays)) continue;
        std::optional<double> value = gap ? group.gap_mm : std::nullopt;
        if (!gap && group.width_mm && group.height_mm) value = *group.width_mm / *group.height_mm;
        if (value)
            readings.add(*value, group.name, 0, 0);
        else
            readings.unknown.push_back(
                fmt::format("{}: no {}", group.name, gap ? "gap_mm" : "width_mm and height_mm"));
    }
    return readings;
}

/// Flashes of a front and a rear group of one side: from the one's beginning to the nearest of the other.
Readings read_ends(std::span<const Observed> observed, const Lamps& lamps) {
    Readings readings;
    readings.why_none = "it takes turn lamps at front and rear (at = \"front\", \"rear\") that flash";
    for (const Observed& ride : observed) {
        std::map<core::Indication, std::vector<TimeUs>> rear_us;
        for (const LampFlash& flash : ride.flashes)
            if (lamps[flash.group].at == LampEnd::rear)
                rear_us[lamps[flash.group].plays.side].push_back(flash.start_us);
        for (auto& [side, moments_us] : rear_us)
            std::sort(moments_us.begin(), moments_us.end());
        for (const LampFlash& flash : ride.flashes) {
            const LampGroup& group = lamps[flash.group];
            const auto rear = rear_us.find(group.plays.side);
            if (group.at == LampEnd::front && rear != rear_us.end())
                readings.add(static_cast<double>(distance_us(rear->second, flash.start_us)),
                             group.name + " and rear", flash.start_us, ride.trial);
        }
    }
    return readings;
}

Readings read_stops(const Limit& limit, std::span<const Observed> observed, const Lamps& lamps) {
    Readings readings;
    readings.why_none = "no stop lamps are known, or the brake was never pressed";
    for (const Observed& ride : observed) {
        const BrakeTap& tap = ride.brake_tap;
        const bool told = std::find(readings.unknown.begin(), readings.unknown.end(), tap.why_not_known) !=
                          readings.unknown.end();
        if (!tap.why_not_known.empty() && !told) readings.unknown.push_back(tap.why_not_known);
        for (const StopPress& press : ride.presses) {
            Reading reading{.where = lamps[press.group].name, .at_us = press.pressed_us, .trial = ride.trial};
            reading.at_least = press.lit_us == never_us;
            const auto after_tap_us =
                static_cast<double>((reading.at_least ? press.released_us : press.lit_us) - press.pressed_us);
            reading.for_least = after_tap_us + tap.late_us.least;
            reading.for_most = after_tap_us + tap.late_us.most;
            if (!reading.at_least || reading.for_most > limit.most.value_or(0) * scale(limit.unit))
                readings.all.push_back(reading);
        }
    }
    return readings;
}

/// Brightness is the duty that the board drives with.
Readings read_stop_to_tail(const Lamps& lamps) {
    Readings readings;
    readings.why_none = "no lamp is known that is stop and tail light in one (job = \"stop\" with dimmed)";
    for (const LampGroup& group : lamps)
        if (group.plays.job == core::Job::stop && group.plays.dimmed > 0)
            readings.add(static_cast<double>(group.plays.full) / group.plays.dimmed, group.name, 0, 0);
    return readings;
}

} // namespace

Readings read_lamps(const Limit& limit, std::span<const Observed> observed, const Lamps& lamps) {
    if (limit.measure == LimitMeasure::stop_lamp_delay) return read_stops(limit, observed, lamps);
    if (limit.measure == LimitMeasure::side_phase) return read_ends(observed, lamps);
    if (limit.measure == LimitMeasure::stop_to_tail) return read_stop_to_tail(lamps);
    if (std::none_of(lamps.begin(), lamps.end(),
                     [](const LampGroup& group) { return lights_in_turn(group.plays); })) {
        Readings none;
        none.why_none = "no lamps are known that light one after the other ([[lamps]], --vehicle)";
        return none;
    }
    switch (limit.measure) {
    case LimitMeasure::sequence_latched:
        return count_flashes(observed, lamps, &LampFlash::latched);
    case LimitMeasure::sequence_outward:
        return count_flashes(observed, lamps, &LampFlash::outward);
    case LimitMeasure::sequence_uniform:
        return count_flashes(observed, lamps, &LampFlash::uniform);
    case LimitMeasure::sequence_time:
        return read_fill_times(limit, observed, lamps);
    default:
        return read_geometry(limit, lamps);
    }
}

} // namespace winkhold::bike
