// What the file says in two ways that don't agree: mostly a slip, and nobody but the owner can say that it
// isn't.
#include "winkhold/base/detail/crc.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"

#include <cmath>
#include <fmt/format.h>
#include <utility>

namespace winkhold::bike {
namespace {

using core::Job;

/// The id hangs on the words: what is meant today says nothing of what the file says tomorrow.
void ask(const std::string& kind, const std::string& text, Points& points) {
    points.noted(Stage::bench, fmt::format("meant-{}-{:08x}", kind, crc32(text)),
                 fmt::format("{}. Mend it; if it is meant so, say so here, and why in the note.", text));
}

/// StVZO 54(3) (read) and Australian design rules (quoted) have turn lamps amber; that stop and tail lamps
/// are red, and front position lamps white or amber, is from memory.
void ask_colour(const LampGroup& group, Points& points) {
    if (!group.colour) return;
    const auto unusual = [&](const char* is, const char* usual) {
        ask("colour", fmt::format("lamps {}: colour = \"{}\", but {}", group.name, is, usual), points);
    };
    const bool is_amber = group.colour == LampColour::amber, is_red = group.colour == LampColour::red;
    if (group.plays.job == Job::turn && !is_amber)
        unusual(is_red ? "red" : "white",
                "turn lamps are amber (StVZO 54(3), read; other places have their own)");
    if ((group.plays.job == Job::stop || group.plays.job == Job::tail) && !is_red)
        unusual(is_amber ? "amber" : "white", "stop and tail lamps are red (from memory)");
    if (group.plays.job == Job::marker && group.at == LampEnd::front && is_red)
        unusual("red", "nothing red shines forward (from memory)");
}

/// Both are of the lit area. A tenth, and a ruler's millimetres, may be between them.
void ask_height(const LampGroup& group, Points& points) {
    if (!group.low_edge_mm || !group.high_edge_mm || !group.height_mm) return;
    constexpr double ruler_mm = 3, share = 0.1;
    const double apart_mm = *group.high_edge_mm - *group.low_edge_mm;
    if (std::abs(apart_mm - *group.height_mm) <= ruler_mm + share * *group.height_mm) return;
    ask("height",
        fmt::format("lamps {}: low_edge_mm and high_edge_mm are {:g} mm apart, but height_mm = {:g}",
                    group.name, apart_mm, *group.height_mm),
        points);
}

/// A worst case of parts without a tolerance is none.
void ask_tolerances(const FrontEnd& front_end, Points& points) {
    const std::pair<const char*, double> tolerances[] = {{"resistor_percent", front_end.resistor_percent},
                                                         {"capacitor_percent", front_end.capacitor_percent},
                                                         {"pin_v_percent", front_end.pin_v_percent}};
    for (const auto& [key, percent] : tolerances)
        if (percent == 0)
            ask("tolerance", fmt::format("[front_end] {} = 0, but no part is exact", key), points);
}

} // namespace

void add_contradictions(const BikeFacts& bike, Points& points) {
    for (const WireFinding& warning : bike.warnings)
        ask(std::string(name(warning.kind)), warning.text, points);
    if (bike.front_end) ask_tolerances(*bike.front_end, points);
    for (const LampGroup& group : bike.plan.lamps) {
        ask_colour(group, points);
        ask_height(group, points);
    }
}

} // namespace winkhold::bike
