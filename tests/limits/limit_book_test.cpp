// The limits as data: every one with its source, nothing misread, nothing unknown passed over.
#include "limits/support.hpp"
#include "temp.hpp"

#include "winkhold/base/error.hpp"

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::LimitBook;

const std::string head = "[place]\nname = \"here\"\nkinds = [\"motorcycle\"]\n";
const std::string rate = "[[limit]]\nid = \"rate\"\nwhat = \"rate\"\nmeasure = \"flash-rate\"\nmost = 2\n"
                         "unit = \"Hz\"\npublication = \"P\"\nclause = \"1\"\nmark = \"read\"\n";

TEST(LimitBook, ThatIsCarriedAlongIsTheFolderOfTheSource) {
    const LimitBook carried = LimitBook::carried_along();
    const LimitBook folder = LimitBook::read(WINKHOLD_DATA "/limits");
    EXPECT_EQ(carried.conditions(), folder.conditions());
    for (const char* place : {"un-ece", "switzerland", "germany", "united-kingdom", "united-states",
                              "european-union", "new-south-wales"}) {
        const auto ours = carried.profile(place, "motorcycle").limits;
        const auto theirs = folder.profile(place, "motorcycle").limits;
        ASSERT_EQ(ours.size(), theirs.size());
        for (std::size_t i = 0; i < ours.size(); ++i) {
            EXPECT_EQ(ours[i].id, theirs[i].id);
            EXPECT_EQ(ours[i].least, theirs[i].least);
            EXPECT_EQ(ours[i].most, theirs[i].most);
            EXPECT_EQ(ours[i].mark, theirs[i].mark);
            EXPECT_EQ(ours[i].note, theirs[i].note);
        }
    }
}

struct Published {
    const char *place, *id;
    std::optional<double> least, most;
    host::Unit unit;
    const char *publication, *clause;
    host::Mark mark;
};

class PublishedLimit : public ::testing::TestWithParam<Published> {};

TEST_P(PublishedLimit, IsCarriedAsPublished) {
    const Published& p = GetParam();
    const Limit limit =
        carried(p.place, std::string(p.place) + "." + p.id,
                std::string_view(p.id).ends_with("battery") ? "motorcycle-without-battery" : "motorcycle");
    EXPECT_EQ(limit.least, p.least);
    EXPECT_EQ(limit.most, p.most);
    EXPECT_EQ(limit.unit, p.unit);
    EXPECT_EQ(limit.publication, p.publication);
    EXPECT_EQ(limit.clause, p.clause);
    EXPECT_EQ(limit.mark, p.mark);
}

constexpr const char* sequence_clauses = "R148 00 series 5.6.11, 01 series 5.6.5; R6 5.6; R50 6.8";
constexpr const char* sequence_regulations = "UN R148, UN R6, UN R50";
using host::Mark;
using host::Unit;

INSTANTIATE_TEST_SUITE_P(
    Facts, PublishedLimit,
    ::testing::Values(
        Published{"un-ece", "flash-rate", 60, 120, Unit::per_minute, "UN R53", "6.3.8.1", Mark::quoted},
        Published{"un-ece", "flash-rate-without-battery", 45, 120, Unit::per_minute, "UN R53", "6.3",
                  Mark::from_memory},
        Published{"un-ece", "first-light", {}, 1, Unit::second, "UN R53", "6.3", Mark::from_memory},
        Published{"un-ece", "first-dark", {}, 1.5, Unit::second, "UN R53", "6.3", Mark::from_memory},
        Published{"un-ece", "emergency-stop-rate", 3, 5, Unit::hertz, "UN R53", "6.14.7.1", Mark::quoted},
        Published{"un-ece",
                  "sequence-finished",
                  {},
                  200,
                  Unit::millisecond,
                  sequence_regulations,
                  sequence_clauses,
                  Mark::from_memory},
        Published{"un-ece",
                  "sequence-gap",
                  {},
                  50,
                  Unit::millimetre,
                  sequence_regulations,
                  sequence_clauses,
                  Mark::quoted},
        Published{"un-ece",
                  "sequence-aspect",
                  1.7,
                  {},
                  Unit::times,
                  sequence_regulations,
                  sequence_clauses,
                  Mark::quoted},
        Published{"switzerland", "flash-rate", 60, 120, Unit::per_minute, "VTS", "art. 79(2)", Mark::read},
        Published{"switzerland", "first-light", {}, 1, Unit::second, "VTS", "art. 79(2)", Mark::read},
        Published{"germany", "flash-rate", 1, 2, Unit::hertz, "StVZO", "54(1)", Mark::read},
        Published{"united-kingdom", "flash-rate", 60, 120, Unit::per_minute, "MOT inspection manual",
                  "section 4 (1-5 before 2018)", Mark::quoted},
        Published{"united-states", "flash-rate-normally-closed", 90, 120, Unit::per_minute, "SAE J945 (1966)",
                  "3, as in NHTSA letters 01931ztv and GF006498", Mark::read},
        Published{"united-states", "on-share", 30, 75, Unit::percent, "49 CFR 571.108, SAE J590", "Figure 2",
                  Mark::from_memory},
        Published{"united-states", "flash-rate-extremes", 50, 130, Unit::per_minute, "SAE J945", "summary",
                  Mark::quoted},
        Published{
            "united-states", "start-longest", {}, 2, Unit::second, "SAE J945", "summary", Mark::quoted}));

TEST(Profile, HasTheLimitsOfItsPlaceFirstAndThoseThatHoldThereToo) {
    const Profile profile = LimitBook::carried_along().profile("switzerland", "motorcycle");
    EXPECT_EQ(profile.limits.front().id, "switzerland.flash-rate");
    EXPECT_EQ(profile.limits.back().id, "any-place.stop-lamp-steady");
    EXPECT_EQ(std::count_if(profile.limits.begin(), profile.limits.end(),
                            [](const Limit& limit) { return limit.id == "un-ece.flash-rate"; }),
              1);
}

TEST(Profile, OfAnotherKindOfVehicleHasOtherLimits) {
    const Profile profile = LimitBook::carried_along().profile("germany", "motorcycle-without-battery");
    for (const Limit& limit : profile.limits) {
        EXPECT_NE(limit.id, "germany.side-in-phase") << "StVZO 54(1) excepts AC lighting (read)";
        EXPECT_NE(limit.id, "un-ece.flash-rate");
    }
}

std::string refusal(const std::function<void()>& act) {
    try {
        act();
    } catch (const host::InputError& error) {
        return error.what();
    }
    return "nothing was refused";
}

TEST(Profile, ThatIsNotKnownIsRefusedWithTheList) {
    const LimitBook book = LimitBook::carried_along();
    for (const auto& [place, kind] : {std::pair{"mars", "motorcycle"}, std::pair{"germany", "sledge"},
                                      std::pair{"any-place", "motorcycle"}, std::pair{"", ""}}) {
        const std::string message = refusal([&] { book.profile(place, kind); });
        EXPECT_NE(message.find("germany (motorcycle, motorcycle-without-battery)"), std::string::npos)
            << message;
        EXPECT_NE(message.find("united-states (motorcycle)"), std::string::npos) << message;
        EXPECT_EQ(message.find("any-place ("), std::string::npos) << message;
    }
}

struct BadFile {
    std::string name;
    std::string text;
    std::string says;
};

std::string without(std::string text, const std::string& line) {
    return text.replace(text.find(line), line.size(), "");
}
std::string with(const std::string& line) {
    return head + rate + line + "\n";
}
std::string instead(std::string text, const std::string& old, const std::string& now) {
    return head + text.replace(text.find(old), old.size(), now);
}

class RefusesLimits : public ::testing::TestWithParam<BadFile> {};

TEST_P(RefusesLimits, NamingFileAndLine) {
    const winkhold::testing::TempFolder folder;
    const std::string path = folder.write("a.toml", GetParam().text);
    const std::string message = refusal([&] { LimitBook::read(folder.path()); });
    EXPECT_NE(message.find(GetParam().says), std::string::npos) << message;
    if (GetParam().says.starts_with(":")) {
        EXPECT_EQ(message.find(path + GetParam().says), 0u) << message;
    }
}

const BadFile bad_files[] = {
    {"no_place", rate, "a.toml: [place] name: missing"},
    {"not_toml", "[place\n", ":1: not valid TOML"},
    {"unknown_section", head + "[limits]\n", ":4: limits: unknown field"},
    {"unknown_field", with("mots = 3"), ":13: [limit] mots: unknown field"},
    {"a_limit_that_is_no_list", head + "[limit]\nid = \"a\"\n", ":4: write each limit as [[limit]]"},
    {"unknown_measure", instead(rate, "flash-rate", "rate-of-flash"), ":7: [limit] measure: write one of"},
    {"unit_of_another_measure", instead(rate, "Hz", "mm"), ":9: [limit] unit: flash-rate takes: /min, Hz"},
    {"no_unit", head + without(rate, "unit = \"Hz\"\n"), ":4: [limit] unit: write one of"},
    {"no_number", head + without(rate, "most = 2\n"), ":4: [limit] most: missing"},
    {"not_a_number", instead(rate, "most = 2", "most = nan"), ":8: [limit] most: write a number"},
    {"below_zero", instead(rate, "most = 2", "most = -2"), ":8: [limit] most: -2 is out of range"},
    {"least_over_most", with("least = 3"), ":4: [limit] least: is more than most"},
    {"no_publication", head + without(rate, "publication = \"P\"\n"), ":4: [limit] publication: missing"},
    {"no_clause", head + without(rate, "clause = \"1\"\n"), ":4: [limit] clause: missing"},
    {"no_mark", head + without(rate, "mark = \"read\"\n"), ":4: [limit] mark: write one of: read, quoted"},
    {"invented_mark", instead(rate, "\"read\"", "\"certain\""),
     ":12: [limit] mark: write one of: read, quoted"},
    {"id_given_twice", head + rate + rate, ":13: [limit] id: \"rate\" is given twice"},
    {"kind_that_no_place_has", with("kinds = [\"sledge\"]"), ": [limit] kinds: here.rate names \"sledge\""},
    {"by_hand_with_a_number", instead(rate, "flash-rate", "by-hand"), ":4: [limit] measure: by-hand has no"},
    {"averaging_of_a_share_in_phase",
     head + "[[limit]]\nid = \"a\"\nwhat = \"a\"\nmeasure = \"hazard-phase\"\nmost = 2\nunit = \"ms\"\n"
            "mean_of_cycles = 3\n",
     ":4: [limit] mean_of_cycles: only with flash-rate and on-share"},
    {"also_a_place_that_is_none", "[place]\nname = \"here\"\nalso = [\"there\"]\n",
     ": [place] also: there is no place \"there\""},
    {"a_circle", "[place]\nname = \"here\"\nalso = [\"here\"]\n",
     ": [place] also: here name each other in a circle"},
};

INSTANTIATE_TEST_SUITE_P(Files, RefusesLimits, ::testing::ValuesIn(bad_files),
                         [](const auto& info) { return info.param.name; });

TEST(RefusesLimits, FoldersWithoutLimits) {
    const winkhold::testing::TempFolder folder;
    EXPECT_NE(refusal([&] { LimitBook::read(folder.path()); }).find("holds no .toml"), std::string::npos);
    EXPECT_NE(refusal([] { LimitBook::read("/nowhere"); }).find("no such file"), std::string::npos);
}

TEST(RefusesLimits, OnePlaceInTwoFiles) {
    const winkhold::testing::TempFolder folder;
    folder.write("a.toml", head);
    const std::string second = folder.write("b.toml", head);
    EXPECT_EQ(refusal([&] { LimitBook::read(folder.path()); }).find(second), 0u);
}

TEST(LimitBook, OfAnotherFolderIsJudgedLikeTheOneCarriedAlong) {
    const winkhold::testing::TempFolder folder;
    folder.write("a.toml", head + rate);
    const Profile profile = LimitBook::read(folder.path()).profile("here", "motorcycle");
    ASSERT_EQ(profile.limits.size(), 1u);
    EXPECT_EQ(profile.limits[0].id, "here.rate");
    const Lines lines = Lines().flashes(core::Side::left, {{245'000, 245'000}}, 12);
    const Finding found = find(profile.limits[0], lines.observed());
    EXPECT_EQ(found.ruling, Ruling::broken);
    EXPECT_NEAR(*found.value, 2.041, 0.001) << "in the unit of the limit";
}

} // namespace
