// Colour of turn lamps, where they are, stop against tail: each limit with a lamp that breaks only it.
#include "limits/support.hpp"

#include "temp.hpp"
#include "winkhold/base/error.hpp"

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::LampColour;
using host::LampEnd;
using host::LampGroup;

LampGroup turn(LampEnd at) {
    LampGroup group;
    group.name = at == LampEnd::front ? "front" : "rear";
    group.at = at;
    group.colour = LampColour::amber;
    group.across_mm = 400;
    group.low_edge_mm = 600;
    group.high_edge_mm = 612;
    if (at == LampEnd::front) group.headlamp_mm = 150;
    if (at == LampEnd::rear) group.stop_lamp_mm = group.ahead_of_rear_mm = 150;
    return group;
}

host::Lamps both() {
    return {turn(LampEnd::front), turn(LampEnd::rear)};
}

Ruling ruling(const std::string& id, const host::Lamps& lamps) {
    return find(carried(id.substr(0, id.find('.')), id), Lines().observed(), lamps).ruling;
}

struct Bound {
    const char* id;
    std::size_t group; ///< of both()
    std::optional<double> LampGroup::*field;
    double kept, broken;
};

class PublishedPlace : public ::testing::TestWithParam<Bound> {};

TEST_P(PublishedPlace, HoldsToItsMillimetre) {
    const Bound& bound = GetParam();
    host::Lamps lamps = both();
    lamps[bound.group].*bound.field = bound.kept;
    EXPECT_EQ(ruling(bound.id, lamps), Ruling::kept);
    lamps[bound.group].*bound.field = bound.broken;
    EXPECT_EQ(ruling(bound.id, lamps), Ruling::broken);
    lamps[bound.group].*bound.field = std::nullopt;
    EXPECT_EQ(ruling(bound.id, lamps), Ruling::not_judged);
    EXPECT_EQ(ruling(bound.id, {}), Ruling::not_judged);
}

// EC rules for two-wheelers (Directive 2009/67/EC, repealed), as fitting sheets print them: 240, 180, 75, 350
// to 1200, 300 mm (quoted). StVZO 54(4), as reprinted: 340 and 240 across, 100, 350 mm (quoted). FMVSS 108
// Table IV in NHTSA letters 1984-3.42 and Mills.1: 4 in (read).
INSTANTIATE_TEST_SUITE_P(
    Facts, PublishedPlace,
    ::testing::Values(
        Bound{"european-union.front-lamps-apart", 0, &LampGroup::across_mm, 240, 239.9},
        Bound{"european-union.rear-lamps-apart", 1, &LampGroup::across_mm, 180, 179.9},
        Bound{"european-union.front-lamps-to-headlamp", 0, &LampGroup::headlamp_mm, 75, 74.9},
        Bound{"european-union.turn-lamps-low-edge", 1, &LampGroup::low_edge_mm, 350, 349},
        Bound{"european-union.turn-lamps-high-edge", 0, &LampGroup::high_edge_mm, 1200, 1201},
        Bound{"european-union.rear-lamps-near-the-rear", 1, &LampGroup::ahead_of_rear_mm, 300, 301},
        Bound{"germany.front-lamps-apart", 0, &LampGroup::across_mm, 340, 339.9},
        Bound{"germany.rear-lamps-apart", 1, &LampGroup::across_mm, 240, 239.9},
        Bound{"germany.front-lamps-to-headlamp", 0, &LampGroup::headlamp_mm, 100, 99.9},
        Bound{"germany.turn-lamps-low-edge", 0, &LampGroup::low_edge_mm, 350, 349},
        Bound{"united-states.front-lamps-to-headlamp", 0, &LampGroup::headlamp_mm, 4 * 25.4, 4 * 25.4 - 0.1},
        Bound{"united-states.rear-lamps-to-stop-lamp", 1, &LampGroup::stop_lamp_mm, 4 * 25.4,
              4 * 25.4 - 0.1}));

TEST(LampPlaces, AtAnEndThatIsNotKnownAreNotJudged) {
    host::Lamps lamps = both();
    lamps[0].at = std::nullopt;
    const Finding found = find(carried("germany", "germany.front-lamps-apart"), Lines().observed(), lamps);
    EXPECT_EQ(found.ruling, Ruling::not_judged);
    EXPECT_NE(found.why.find("enter at of [[lamps]] front"), std::string::npos) << found.why;
}

// StVZO 54(3) (read); Australian design rules, as noted in NSW (quoted)
TEST(LampColours, OfTurnLampsAreAmber) {
    for (const char* id : {"germany.turn-lamps-amber", "new-south-wales.turn-lamps-amber"}) {
        host::Lamps lamps = both();
        EXPECT_EQ(ruling(id, lamps), Ruling::kept);
        lamps[1].colour = std::nullopt;
        EXPECT_EQ(ruling(id, lamps), Ruling::not_judged);
        lamps[1].colour = LampColour::red;
        EXPECT_EQ(ruling(id, lamps), Ruling::broken);
        lamps[1].plays.job = core::Job::stop;
        EXPECT_EQ(ruling(id, lamps), Ruling::kept);
    }
}

// SAE J586 in FMVSS 108, NHTSA letter (read): 5 times at the centre
TEST(StopAgainstTail, IsFiveTimesAsBright) {
    host::Lamps lamps(1);
    lamps[0].name = "stop";
    lamps[0].plays.job = core::Job::stop;
    const auto at = [&](std::uint8_t full, std::uint8_t dimmed) {
        lamps[0].plays.full = full;
        lamps[0].plays.dimmed = dimmed;
        return find(carried("un-ece", "any-place.stop-lamp-stands-out"), Lines().observed(), lamps);
    };
    EXPECT_EQ(at(255, 51).ruling, Ruling::kept);
    EXPECT_EQ(at(255, 52).ruling, Ruling::broken);
    EXPECT_NEAR(*at(255, 200).value, 1.275, 1e-9);
    EXPECT_EQ(at(255, 200).ruling, Ruling::broken);
    EXPECT_EQ(at(255, 0).ruling, Ruling::not_judged) << "no tail light in it";
}

std::string refusal(const std::string& fields) {
    const winkhold::testing::TempFolder folder;
    const std::string path = folder.write(
        "bike.toml", "[[lamps]]\nname = 'a'\njob = 'turn'\nside = 'left'\ncount = 1\nat = 'rear'\n" + fields);
    try {
        host::lamps_of(host::Vehicle::read(path));
    } catch (const host::InputError& error) {
        return error.what();
    }
    return "";
}

TEST(LampPlaces, ThatContradictEachOtherAreRefusedWithTheirLine) {
    EXPECT_EQ(refusal("low_edge_mm = 600\nhigh_edge_mm = 612\n"), "");
    EXPECT_NE(refusal("low_edge_mm = 600\nhigh_edge_mm = 588\n").find("bike.toml:8"), std::string::npos);
    EXPECT_NE(refusal("headlamp_mm = 100\n").find("only with at = \"front\""), std::string::npos);
}

} // namespace
