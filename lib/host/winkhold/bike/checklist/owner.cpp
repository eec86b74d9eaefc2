#include "winkhold/bike/checklist/owner.hpp"

#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/checklist/detail/concern.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using core::Job;

OwnerSection may_i_ride(const Readiness& readiness) {
    OwnerSection section{"May I ride it?", {}};
    switch (readiness.verdict()) {
    case Verdict::ready:
        section.sentences.push_back(
            "All that was looked at is good. Somebody licensed must still look at the bike; "
            "until then it stays off the road.");
        break;
    case Verdict::open:
        section.sentences.push_back("No. Something is not measured or not known yet: ask who built it.");
        break;
    case Verdict::not_ready:
        section.sentences.push_back("No. Something is wrong: ask who built it.");
        break;
    }
    return section;
}

/// What somebody wrote beside a point; empty: nothing.
std::string note_of(const Checklist& checklist, const std::string& id) {
    for (const PointRecord& record : checklist.points)
        if (record.point.id == id && record.measured) return record.measured->note;
    return {};
}

/// How a flash begins.
std::string fill_of(const Lamps& lamps) {
    if (!has_fill(lamps)) return {};
    const bool by_lamps = std::any_of(lamps.begin(), lamps.end(), [](const LampGroup& group) {
        return group.plays.job == Job::turn && !group.plays.all_at_once() &&
               group.plays.pattern.fills == core::Pattern::Fills::lamps;
    });
    return by_lamps ? ", each time filling from the middle of the bike outward"
                    : ", each time brighter by steps";
}

OwnerSection what_works(const Checklist& checklist) {
    OwnerSection section{"What works how", {}};
    auto& say = section.sentences;
    const Lamps& lamps = checklist.lamps;
    if (has_job(lamps, Job::turn)) {
        say.push_back(
            fmt::format("Left and right: the switch as ever. The lamps of that side flash{}, until you let "
                        "go.",
                        fill_of(lamps)));
        say.push_back("Hazard: both sides flash together.");
        if (const std::string note = note_of(checklist, "look-hazard-without-key"); !note.empty())
            say.push_back(fmt::format("Hazard with the key off: {}.", note));
    }
    if (has_job(lamps, Job::stop))
        say.push_back("Brake, hand or foot: the stop lamps light at once, whatever else flashes.");
    if (has_job(lamps, Job::tail) || std::any_of(lamps.begin(), lamps.end(), [](const LampGroup& group) {
            return group.plays.job == Job::stop && group.plays.dimmed > 0;
        }))
        say.push_back("Lights on: the tail light is on, dimmer than the stop lamps.");
    if (has_job(lamps, Job::marker))
        say.push_back("Lights on: the front markers are on; on a side that flashes they may go dim or dark.");
    say.push_back("Before each ride: left, right, hazard, both brakes, lights. One look around the bike.");
    return section;
}

OwnerSection fast_flash(const Vehicle& vehicle) {
    OwnerSection section{"What a fast flash means", {}};
    const std::vector<std::string> rate{"flasher.rate_per_min"};
    if (why_not_known(vehicle, rate).empty()) {
        const Range per_min = scenario_or_demo_ride(vehicle).flasher.rate_per_min;
        section.sentences.push_back(fmt::format("This bike flashes about {:.0f} times a minute.",
                                                (per_min.least + per_min.most) / 2));
    }
    section.sentences.push_back(
        "About twice as fast, or on without flashing, or not at all: a lamp or a wire has "
        "failed. Stop where it is safe and look at all lamps.");
    return section;
}

OwnerSection where_fuses_are(const Wiring& wiring) {
    OwnerSection section{"Where the fuses are", {}};
    for (const Wire& wire : wiring.wires)
        if (wire.fuse_a)
            section.sentences.push_back(fmt::format("{:g} A in {}, where it leaves {}.", *wire.fuse_a,
                                                    wire_name(wire), text(wire.from)));
    section.sentences.push_back(
        "Only the same size again, and once. If it blows again, something is wrong behind "
        "it: leave it out and have it mended.");
    return section;
}

OwnerSection what_stays(const Wiring& wiring, const Checklist& checklist) {
    OwnerSection section{"What must stay connected", {}};
    for (const Kept& kept : wiring.kept) {
        std::string text = kept.name;
        if (!kept.why.empty()) text += ": " + kept.why;
        const std::string note = note_of(checklist, "keep-" + id_of(kept.name));
        section.sentences.push_back(text + (note.empty() ? "." : fmt::format(". Without it: {}.", note)));
    }
    if (wiring.kept.empty())
        section.sentences.push_back(
            "Nobody has listed it. Unplug nothing of the factory's before you have asked.");
    return section;
}

} // namespace

OwnerSheet owner_sheet_of(const Vehicle& vehicle, const Checklist& checklist) {
    const Wiring wiring = wiring_of(vehicle);
    OwnerSheet owner{checklist.vehicle, checklist.readiness, checklist.still_example, {}};
    owner.sections = {
        may_i_ride(checklist.readiness),
        what_works(checklist),
        fast_flash(vehicle),
        where_fuses_are(wiring),
        what_stays(wiring, checklist),
        {"When something fails",
         {"Stop where it is safe. Hazard on, if it still works.",
          "Turn signals dead: hand signals, the shortest way to where the bike can stand. Stop lamps dead: "
          "don't "
          "ride on.",
          "A lamp that stays on, smoke or a smell: key off, battery minus off if you can reach it.",
          "A jump start, a new battery or a wash with high pressure: try all functions again before you "
          "ride.",
          "Don't open the board, don't change its settings, never tune while riding."}},
        {"The way back to factory", checklist.restore},
        {"Whom to ask",
         {"Built by: ______________________________  phone: ____________________",
          "Looked at by (licensed): ______________________  on: ______________",
          fmt::format("Tell them the number of this state: {:08x}.", checklist.readiness.crc32)}},
    };
    return owner;
}

} // namespace winkhold::bike
