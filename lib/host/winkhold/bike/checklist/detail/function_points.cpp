// On the bike, standing: each function by itself, held to the limits of its place.
#include "winkhold/bike/checklist/detail/points.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/bike/checklist/detail/concern.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using core::Job;

/// All limits of a place on one measure, which all have to be kept.
struct Bounds {
    std::optional<double> least;
    std::optional<double> most;
    std::string source;
};

/// `one`: what the measure's unit is in the point's. Conditions that nobody states don't hold.
Bounds bounds_of(const std::optional<Profile>& profile, LimitMeasure measure, double one) {
    Bounds bounds;
    std::vector<std::string> sources;
    if (!profile) return bounds;
    for (const Limit& limit : profile->limits) {
        if (limit.measure != measure || !limit.only_if.empty()) continue;
        const double in_point = scale(limit.unit) * one;
        if (limit.least) bounds.least = std::max(bounds.least.value_or(0), *limit.least * in_point);
        if (limit.most) bounds.most = std::min(bounds.most.value_or(1e9), *limit.most * in_point);
        sources.push_back(fmt::format("{}, {}, {}", limit.publication, limit.clause, name(limit.mark)));
    }
    bounds.source = joined(sources, "; ");
    return bounds;
}

/// A place whose book has no number for it wants a look all the same.
void add_by_place(const std::optional<Profile>& profile, const std::string& id, const std::string& task,
                  const char* unit, const Bounds& bounds, Points& points) {
    if (profile && !bounds.least && !bounds.most)
        points.noted(Stage::functions, id,
                     fmt::format("{} {} has no number for it: measure it, and write it into the note.", task,
                                 profile->title));
    else
        points.within(Stage::functions, id, task, unit, bounds.least, bounds.most, bounds.source,
                      "[vehicle] place and kind, which say whose limits hold");
}

void add_kept(const Wiring& wiring, Points& points) {
    for (const Kept& kept : wiring.kept)
        points.noted(Stage::functions, "keep-" + id_of(kept.name),
                     "Still works as it left the factory, and is plugged in. Unplug it once at standstill, "
                     "write into the note what the bike does without it, and plug it in again.");
}

/// What the place demands and no ride of these lamps shows.
void add_by_hand(const std::optional<Profile>& profile, const Lamps& lamps, Points& points) {
    if (!profile) return;
    for (const Limit& limit : profile->limits) {
        if (concern_of(limit, lamps) != Concern::by_hand) continue;
        std::string how = limit.note.empty() ? "look at it by hand" : limit.note;
        if (limit.measure != LimitMeasure::by_hand)
            how = fmt::format(
                "{}; none of [[lamps]] shows it: look at the factory's, or note that there is none",
                bounds_text(limit));
        points.yes_or_no(Stage::functions,
                         "place-" + id_of(std::string_view(limit.id).substr(limit.id.find('.') + 1)),
                         fmt::format("{}: {} ({}, {}, {}).", limit.what, how, limit.publication, limit.clause,
                                     name(limit.mark)));
    }
}

} // namespace

void add_functions(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::functions;
    const Lamps& lamps = bike.plan.lamps;
    const Bounds rate = bounds_of(bike.limits, LimitMeasure::flash_rate, 1);
    Bounds first = bounds_of(bike.limits, LimitMeasure::first_light, 1e-3);
    if (first.most && !first.least && has_job(lamps, Job::turn)) {
        first.least = 0.9 * static_cast<double>(bike.decoder.settle_us) / 1e3;
        first.source += "; no sooner than settle, with a clock 10 % off, derived";
    }
    for (const char* side : {"left", "right", "hazard"}) {
        points.yes_or_no(
            stage, fmt::format("{}-lamps", side),
            fmt::format("{}: its lamps and no others, front and rear, until it is let go.", side));
        add_by_place(bike.limits, fmt::format("{}-rate-per-min", side),
                     fmt::format("{}: flashes a minute, engine idling.", side), "/min", rate, points);
    }
    for (const char* side : {"left", "right"})
        add_by_place(bike.limits, fmt::format("{}-first-light-ms", side),
                     fmt::format("{}: from the switch to the first light.", side), "ms", first, points);
    points.yes_or_no(stage, "side-change",
                     "Left, right, left without a pause, ten times: never both, never the old side.");
    points.yes_or_no(
        stage, "hazard-in-turn",
        "Hazard pressed in a turn and let go again, each side: both sides, then the turn goes on.");
    if (has_job(lamps, Job::stop))
        points.yes_or_no(stage, "stop-lamps",
                         "Each brake by itself: at once, alone and while either side or hazard flashes.");
    if (has_job(lamps, Job::tail)) points.yes_or_no(stage, "tail-lamps", "Tail light with the key.");
    if (has_job(lamps, Job::marker))
        points.yes_or_no(stage, "marker-lamps",
                         "Markers with the key; on a side that flashes as dim as they ought to be.");
    points.yes_or_no(stage, "key-off", "Key off while a side flashes: all lamps go dark, and stay dark.");
    add_kept(bike.wiring, points);
    add_by_hand(bike.limits, lamps, points);
}

} // namespace winkhold::bike
