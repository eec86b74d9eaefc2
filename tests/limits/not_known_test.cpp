// Nothing that rests on a value which nobody who knows the bike has given is kept.
#include "limits/support.hpp"
#include "temp.hpp"

#include "winkhold/bike/limits/check.hpp"
#include "winkhold/bike/limits/report.hpp"

#include <map>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using winkhold::testing::TempFolder;

/// Fields of a bike by section: one test takes one of them away.
using Sections = std::map<std::string, std::map<std::string, std::string>>;

Sections whole() {
    return {{"vehicle", {{"place", "'united-states'"}, {"kind", "'motorcycle'"}}},
            {"flasher",
             {{"rate_per_min", "92"},
              {"duty_percent", "47"},
              {"jitter_percent", "0.5"},
              {"side_change", "'restart'"},
              {"start_delay", "'7ms'"},
              {"first_on_extra", "'0ms'"}}},
            {"lines", {{"bounce", "'2ms'"}, {"rise_skew", "'3ms'"}}},
            {"rider",
             {{"script",
               "[{ show = 'left', flashes = 11 }, { show = 'off', for = '2s' }, { show = 'hazard', flashes = "
               "11 }, { show = 'off', for = '2s' }, { show = 'right', flashes = 11 }, { show = 'off', for "
               "= '2s' }]"}}}};
}

host::Judgement judged(const Sections& sections, const std::string& rest = "",
                       const host::LimitsQuestion& question = {}) {
    const TempFolder folder;
    std::string text;
    for (const auto& [section, fields] : sections) {
        text += "[" + section + "]\n";
        for (const auto& [key, value] : fields)
            text += key + " = " + value + "\n";
    }
    host::LimitsQuestion full = question;
    const host::Vehicle vehicle = host::Vehicle::read(folder.write("bike.toml", text + rest));
    full.vehicle = vehicle;
    return host::judge_scenario(host::LimitBook::carried_along(), full, vehicle, 1, 2);
}

Finding finding(const host::Judgement& judgement, const std::string& id) {
    for (const Finding& found : judgement.findings)
        if (found.limit.id == id) return found;
    ADD_FAILURE() << id;
    return {};
}

struct Needs {
    const char *section, *key;
    std::vector<std::string> limits; ///< of the place, that rest on it
    const char* place;
};

TEST(NotKnown, AFieldThatIsMissingIsNamedAndItsLimitsAreNotKept) {
    const Needs all[] = {
        {"flasher",
         "rate_per_min",
         {"flash-rate", "on-share", "start-longest", "start-mean"},
         "united-states"},
        {"flasher", "duty_percent", {"flash-rate", "on-share", "start-longest"}, "united-states"},
        {"flasher", "jitter_percent", {"flash-rate", "on-share"}, "united-states"},
        {"flasher", "first_on_extra", {"start-longest", "start-mean"}, "united-states"},
        {"flasher", "start_delay", {"start-longest", "start-mean"}, "united-states"},
        {"flasher", "start_delay", {"first-light", "first-dark"}, "un-ece"},
        {"flasher", "side_change", {"first-light"}, "un-ece"},
        {"lines", "bounce", {"first-light"}, "un-ece"},
        {"lines", "rise_skew", {"hazard-in-phase"}, "un-ece"},
    };
    for (const Needs& needs : all) {
        Sections sections = whole();
        sections["vehicle"]["place"] = "'" + std::string(needs.place) + "'";
        const host::Judgement twin = judged(sections);
        sections[needs.section].erase(needs.key);
        const host::Judgement without = judged(sections);
        for (const std::string& limit : needs.limits) {
            const std::string id = std::string(needs.place) + "." + limit;
            EXPECT_EQ(finding(twin, id).ruling, Ruling::kept) << id << finding(twin, id).why;
            const Finding found = finding(without, id);
            EXPECT_EQ(found.ruling, Ruling::not_judged) << id << " without " << needs.key;
            EXPECT_FALSE(found.value) << id << ": its figure is none of this bike's";
            EXPECT_NE(found.why.find("enter [" + std::string(needs.section) + "] " + needs.key),
                      std::string::npos)
                << found.why;
        }
    }
}

TEST(NotKnown, AFieldSpoilsNoLimitThatDoesNotRestOnIt) {
    Sections sections = whole();
    sections["flasher"].erase("start_delay");
    EXPECT_EQ(finding(judged(sections), "united-states.flash-rate").ruling, Ruling::kept);
}

TEST(NotKnown, WithoutFlasherAndLinesNothingIsKept) {
    Sections sections = whole();
    sections.erase("flasher");
    sections.erase("lines");
    for (const char* place : {"'un-ece'", "'united-states'", "'germany'", "'new-south-wales'"}) {
        sections["vehicle"]["place"] = place;
        EXPECT_EQ(judged(sections).count(Ruling::kept), 0) << place;
        EXPECT_EQ(judged(sections).count(Ruling::broken), 0) << place;
    }
}

TEST(NotKnown, ADelayThatIsGivenIsJudged) {
    Sections sections = whole();
    sections["vehicle"]["place"] = "'un-ece'";
    sections["flasher"]["start_delay"] = "'1.3s'";
    const Finding found = finding(judged(sections), "un-ece.first-light");
    EXPECT_EQ(found.ruling, Ruling::broken);
    EXPECT_NEAR(*found.value, 1.3, 0.01);
}

TEST(NotKnown, WhatIsTheExamplesPassesNothing) {
    Sections sections = whole();
    sections["flasher"]["example"] = "true";
    const host::Judgement judgement = judged(sections);
    EXPECT_EQ(judgement.still_example.sections, std::vector<std::string>{"flasher"});
    const Finding found = finding(judgement, "united-states.flash-rate");
    EXPECT_EQ(found.ruling, Ruling::not_judged);
    EXPECT_NE(found.why.find("is still the example's"), std::string::npos) << found.why;
    sections["flasher"]["example"] = "false";
    EXPECT_EQ(finding(judged(sections), "united-states.flash-rate").ruling, Ruling::kept);
}

const std::string stop = "name = 'stop'\njob = 'stop'\nside = 'both'\ncount = 3\ndimmed = 40\n";

TEST(NotKnown, LampsOfTheExamplePassNothingAndSpoilNothing) {
    const Finding own = finding(judged(whole(), "[[lamps]]\n" + stop), "any-place.stop-lamp-stands-out");
    EXPECT_EQ(own.ruling, Ruling::kept) << own.why;
    const host::Judgement judgement = judged(whole(), "[[lamps]]\nexample = true\n" + stop);
    EXPECT_EQ(finding(judgement, "any-place.stop-lamp-stands-out").ruling, Ruling::not_judged);
    EXPECT_EQ(finding(judgement, "united-states.flash-rate").ruling, Ruling::kept) << "of the lines";
}

TEST(NotKnown, AnAssumedPlaceKeepsNothingButTellsWhatItBreaks) {
    Sections sections = whole();
    sections["vehicle"].erase("place");
    const host::Judgement slow = judged(sections);
    EXPECT_EQ(slow.assumed, std::vector<std::string>{"place"});
    const Finding rate = finding(slow, "un-ece.flash-rate");
    EXPECT_EQ(rate.ruling, Ruling::not_judged);
    EXPECT_TRUE(rate.value) << "the figure is this bike's";
    EXPECT_NE(rate.why.find("enter [vehicle] place, or say --place"), std::string::npos) << rate.why;
    EXPECT_EQ(finding(judged(sections, "[[lamps]]\n" + stop), "any-place.stop-lamp-stands-out").ruling,
              Ruling::kept)
        << "holds wherever one rides";
    sections["flasher"]["rate_per_min"] = "150";
    EXPECT_EQ(finding(judged(sections), "un-ece.flash-rate").ruling, Ruling::broken);
    host::LimitsQuestion said;
    said.place = "un-ece";
    sections["flasher"]["rate_per_min"] = "92";
    EXPECT_TRUE(judged(sections, "", said).assumed.empty());
    EXPECT_EQ(finding(judged(sections, "", said), "un-ece.flash-rate").ruling, Ruling::kept);
}

TEST(NotKnown, AnAssumedKindKeepsNothingThatHoldsForThatKindAlone) {
    Sections sections = whole();
    sections["vehicle"]["place"] = "'un-ece'";
    sections["vehicle"].erase("kind");
    const host::Judgement judgement = judged(sections);
    EXPECT_EQ(finding(judgement, "un-ece.flash-rate").ruling, Ruling::not_judged);
    EXPECT_EQ(finding(judgement, "un-ece.first-light").ruling, Ruling::kept) << "holds for either kind";
}

/// Two turn lamps of which one is given as here.
std::string lamps(const std::string& second) {
    const std::string one = "job = 'turn'\nat = 'front'\ncount = 6\npattern = 'outward'\nstep = '20ms'\n"
                            "colour = 'amber'\nheadlamp_mm = 130\nlow_edge_mm = 700\nhigh_edge_mm = 720\n";
    return "[[lamps]]\nname = 'front left'\nside = 'left'\nacross_mm = 300\n" + one +
           "[[lamps]]\nname = 'front right'\n" + second + one;
}

TEST(NotKnown, AValueThatNoBikeHasKeepsNothing) {
    Sections sections = whole();
    sections["vehicle"]["place"] = "'european-union'";
    const std::string id = "european-union.front-lamps-apart";
    EXPECT_EQ(finding(judged(sections, lamps("side = 'right'\nacross_mm = 300\n")), id).ruling, Ruling::kept);
    const Finding slipped = finding(judged(sections, lamps("side = 'right'\nacross_mm = 3_000\n")), id);
    EXPECT_EQ(slipped.ruling, Ruling::not_judged);
    EXPECT_NE(slipped.why.find("[[lamps]] 2 across_mm can't be right"), std::string::npos) << slipped.why;
    sections["lines"]["bounce"] = "'70ms'";
    const Finding bounced = finding(judged(sections), "un-ece.first-light");
    EXPECT_EQ(bounced.ruling, Ruling::not_judged);
    EXPECT_NE(bounced.why.find("[lines] bounce can't be right"), std::string::npos) << bounced.why;
}

TEST(NotKnown, LampsWhoseNameContradictsTheirSideKeepNothing) {
    Sections sections = whole();
    sections["vehicle"]["place"] = "'european-union'";
    const auto judgement = judged(sections, lamps("side = 'left'\nacross_mm = 300\n"));
    for (const char* id : {"european-union.front-lamps-apart", "un-ece.sequence-finished"}) {
        const Finding found = finding(judgement, id);
        EXPECT_EQ(found.ruling, Ruling::not_judged) << id;
        EXPECT_NE(found.why.find("the name says right, but side = \"left\""), std::string::npos) << found.why;
    }
    ASSERT_FALSE(judgement.warnings.empty());
    EXPECT_NE(host::limits_text(judgement, "t").find("Warning: "), std::string::npos);
}

} // namespace
