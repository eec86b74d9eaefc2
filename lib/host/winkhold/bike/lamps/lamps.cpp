#include "winkhold/bike/lamps/lamps.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr int most_lamps = 4'096;
constexpr std::size_t most_groups = 255;

int needed(TomlFields& fields, std::string_view name, std::initializer_list<std::string_view> names) {
    const int chosen = fields.choice(name, names);
    if (chosen < 0)
        fields.refuse(name, fields.table(), fmt::format("missing; write one of: {}", joined(names, ", ")));
    return chosen;
}

core::Span span(TomlFields& fields, std::string_view name) {
    TimeUs us = 0;
    fields.duration(name, core::built_in::longest_play_us, us);
    return static_cast<core::Span>(us);
}

std::uint8_t brightness(TomlFields& fields, std::string_view name, std::uint8_t otherwise) {
    int value = otherwise;
    fields.whole(name, 0, 255, value);
    return static_cast<std::uint8_t>(value);
}

void read_pattern(TomlFields& fields, core::LampGroup& plays) {
    enum Kind { together, outward, blocks, fade };
    const int kind = std::max(0, fields.choice("pattern", {"together", "outward", "blocks", "fade"}));
    const core::Span step_us = span(fields, "step");
    int block = 0;
    fields.whole("block", 1, most_lamps, block);
    if (kind == together && step_us != 0)
        fields.refuse("step", *fields.node("step"),
                      "only with pattern = \"outward\", \"blocks\" or \"fade\"");
    if (kind != together && step_us == 0)
        fields.refuse("step", fields.table(), "missing; say how far apart the steps are, like \"30ms\"");
    if (kind != blocks && kind != fade && block != 0)
        fields.refuse("block", *fields.node("block"), "only with pattern = \"blocks\" or \"fade\"");
    if (kind == blocks && block == 0)
        fields.refuse("block", fields.table(), "missing; say how many lamps each step adds");
    constexpr int fade_levels = 16;
    if (kind == outward) plays.pattern = core::outward(step_us);
    if (kind == blocks) plays.pattern = core::in_blocks(static_cast<std::uint16_t>(block), step_us);
    if (kind == fade)
        plays.pattern =
            core::fading_in(static_cast<std::uint16_t>(block == 0 ? fade_levels : block), step_us);
    fields.renamed("hold", "stay");
    plays.pattern = core::ending(plays.pattern, span(fields, "stay"), span(fields, "blank"));
}

void refuse_what_the_core_refuses(const TomlFields& fields, const core::LampGroup& plays) {
    switch (core::check(plays)) {
    case core::LampError::fill_too_long:
        fields.refuse("step", fields.table(), "the fill and its stay last over 5 s; make it faster");
    case core::LampError::only_turn_has_a_pattern:
        fields.refuse("pattern", fields.table(),
                      "only job = \"turn\" plays one; other lamps must not wait for a frame");
    default: // ranges were judged field by field
        break;
    }
}

void read_place_on_the_bike(TomlFields& fields, LampGroup& group) {
    constexpr double longest_mm = 5'000;
    fields.number("across_mm", 1, longest_mm, group.across_mm);
    fields.number("headlamp_mm", 0, longest_mm, group.headlamp_mm);
    fields.number("stop_lamp_mm", 0, longest_mm, group.stop_lamp_mm);
    fields.number("low_edge_mm", 0, longest_mm, group.low_edge_mm);
    fields.number("high_edge_mm", 1, longest_mm, group.high_edge_mm);
    fields.number("ahead_of_rear_mm", 0, longest_mm, group.ahead_of_rear_mm);
    if (group.low_edge_mm && group.high_edge_mm && *group.high_edge_mm <= *group.low_edge_mm)
        fields.refuse("high_edge_mm", *fields.node("high_edge_mm"), "is not above low_edge_mm");
    const bool turn = group.plays.job == core::Job::turn;
    for (const char* name : {"across_mm", "headlamp_mm", "stop_lamp_mm", "ahead_of_rear_mm"})
        if (!turn && fields.has(name)) fields.refuse(name, *fields.node(name), "only with job = \"turn\"");
    if (group.at == LampEnd::rear && fields.has("headlamp_mm"))
        fields.refuse("headlamp_mm", *fields.node("headlamp_mm"), "only with at = \"front\"");
    for (const char* name : {"stop_lamp_mm", "ahead_of_rear_mm"})
        if (group.at == LampEnd::front && fields.has(name))
            fields.refuse(name, *fields.node(name), "only with at = \"rear\"");
}

LampGroup read_group(TomlFields& fields) {
    LampGroup group;
    fields.text("name", group.name);
    if (group.name.empty())
        fields.refuse("name", fields.table(), "missing; name the group, like \"front left\"");
    group.where = fields.where(group.name, fields.table());

    core::LampGroup& plays = group.plays;
    plays.job = static_cast<core::Job>(needed(fields, "job", {"turn", "stop", "tail", "marker"}));
    plays.side = static_cast<core::Indication>(1 + needed(fields, "side", {"left", "right", "both"}));
    int count = 0;
    fields.whole("count", 1, most_lamps, count);
    if (count == 0) fields.refuse("count", fields.table(), "missing; say how many lamps it has");
    plays.count = static_cast<std::uint16_t>(count);
    plays.full = brightness(fields, "brightness", 255);
    plays.dimmed = brightness(fields, "dimmed", plays.job == core::Job::tail ? plays.full : 0);
    read_pattern(fields, plays);
    refuse_what_the_core_refuses(fields, plays);
    fields.choice("at", {"front", "rear"}, group.at);

    fields.choice("colour", {"amber", "red", "white"}, group.colour);
    fields.number("led_v", 0.5, 60, group.led_v);
    fields.number("led_ma", 0.01, 10'000, group.led_ma);
    fields.whole("in_series", 1, 100, group.in_series);
    fields.choice("feed", {"resistor", "constant-current"}, group.feed);
    fields.choice("driver", {"pin", "transistor", "shift-register"}, group.driver);
    fields.texts("pins", group.pins);
    fields.whole("awg", 0, 40, group.awg);
    fields.number("length_m", 0, 100, group.length_m);

    fields.number("gap_mm", 0, 10'000, group.gap_mm);
    fields.number("width_mm", 0.1, 10'000, group.width_mm);
    fields.number("height_mm", 0.1, 10'000, group.height_mm);
    read_place_on_the_bike(fields, group);
    return group;
}

} // namespace

Lamps lamps_of(const Vehicle& vehicle) {
    Lamps lamps;
    int count = 0;
    for_each_table(vehicle, "lamps", [&](TomlFields& fields, const std::string&) {
        LampGroup group = read_group(fields);
        fields.done();
        for (const LampGroup& before : lamps)
            if (before.name == group.name)
                fields.refuse("name", *fields.node("name"),
                              fmt::format("\"{}\" is the name of another group, too", group.name));
        if (lamps.size() == most_groups)
            fields.refuse("name", *fields.node("name"), fmt::format("over {} groups", most_groups));
        count += group.plays.count;
        if (count > most_lamps)
            fields.refuse("count", *fields.node("count"), fmt::format("over {} lamps in all", most_lamps));
        lamps.push_back(std::move(group));
    });
    return lamps;
}

} // namespace winkhold::bike
