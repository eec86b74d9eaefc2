// What no tool sees, and the road, last: on closed ground, for nobody licensed has looked at the bike yet.
#include "winkhold/bike/checklist/detail/points.hpp"

#include <algorithm>

namespace winkhold::bike {

void add_unseen(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::functions;
    const auto is_lamp_failure = [](const Limit& limit) { return limit.id.ends_with(".lamp-failure"); };
    if (!bike.limits || std::none_of(bike.limits->limits.begin(), bike.limits->limits.end(), is_lamp_failure))
        points.yes_or_no(
            stage, "look-failed-lamp",
            "Take a lamp of each side out, at standstill: the rider is told, by a pilot or a marked "
            "change of rate (UN R48/R53, SAE J588, read; no number is published).");
    points.yes_or_no(stage, "look-tell-tales",
                     "The factory's tell-tales and modules are all still connected; [[keep]] lists each.");
    points.noted(stage, "look-hazard-without-key",
                 "Hazard with the key off does what it did when the bike left the factory; say which in "
                 "the note.");
    points.yes_or_no(stage, "look-colour",
                     "By day and by night: turn lamps amber, stop and tail red, each way round (StVZO 54(3), "
                     "read; other places have their own).");
    points.yes_or_no(
        stage, "look-fixed-parts",
        "Lamps sit on parts that don't turn or move: nothing of the fork's or a lid's unless the "
        "place allows it (rear turn lamps: StVZO 54(1a), read).");
    points.yes_or_no(
        stage, "look-distances",
        "Distances and heights of all lamps measured with a rule, those of turn lamps entered in [[lamps]] "
        "(across_mm and the rest), and held to what the place demands.");
    points.yes_or_no(
        stage, "look-strain-relief",
        "Each wire is held before its plug and where it leaves the frame; nothing pulls when the "
        "bars turn from lock to lock (common practice, no source).");
    points.yes_or_no(
        stage, "look-fuses",
        "Each fuse sits within a hand's width of where its wire leaves a live one, can be reached, "
        "and says its size; spares are aboard (common practice, no source).");
    points.yes_or_no(stage, "look-board-place",
                     "The board and its resistors are away from fuel, its hoses and vapour, from exhaust and "
                     "engine, and from standing water (common practice, no source).");
    const auto is_tell_tale = [](const Kept& kept) { return kept.kind == Kept::Kind::tell_tale; };
    if (std::none_of(bike.wiring.kept.begin(), bike.wiring.kept.end(), is_tell_tale))
        points.noted(
            stage, "look-kept",
            "List the factory's tell-tales in [[keep]]; if it never had any, say so here, and in the "
            "note what tells the rider in their place.");
}

void add_road(Points& points) {
    const Stage stage = Stage::road;
    points.yes_or_no(
        stage, "road-second-look",
        "Somebody who did not build it has looked at each lamp and wire, with this paper in hand.");
    points.yes_or_no(stage, "road-closed-ground",
                     "A helper watches all lamps on closed ground: every function at idle and at speed. "
                     "Nobody tunes while riding.");
    points.yes_or_no(
        stage, "road-after-an-hour",
        "After an hour's ride on closed ground: no wire chafed, plugs tight, board and resistors touchable.");
    points.yes_or_no(stage, "road-after-a-night",
                     "After a night parked it starts, and every function works once more.");
}

} // namespace winkhold::bike
