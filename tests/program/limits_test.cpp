// `winkhold limits`, as a user would.
#include "run.hpp"

#include <nlohmann/json.hpp>
#include <sstream>

namespace {

using winkhold::testing::Ran;
using winkhold::testing::Scratch;
using Json = nlohmann::json;

/// Left flashes so long and so long.
std::string recording(const Scratch& scratch, int on_us, int dark_us, int flashes = 12) {
    std::string text = "time_us,left,right\n0,0,0\n";
    for (long at_us = 1'000'000; flashes > 0; --flashes, at_us += on_us + dark_us)
        text += std::to_string(at_us) + ",1,0\n" + std::to_string(at_us + on_us) + ",0,0\n";
    return scratch.write("ride.csv", text + "99000000,0,0\n");
}

Json finding(const Json& json, const std::string& id) {
    for (const Json& limit : json["limits"])
        if (limit["id"] == id) return limit;
    return {};
}

TEST(Limits, ARideWithinTheLimitsEndsWithZero) {
    Scratch scratch;
    const Ran ran = scratch.run("limits " + recording(scratch, 350'000, 350'000));
    EXPECT_EQ(ran.exit_code, 0);
    EXPECT_EQ(ran.err, "");
    EXPECT_NE(ran.out.find("0 broken"), std::string::npos);
    EXPECT_NE(ran.out.find("UN R53, 6.3.8.1 (quoted)"), std::string::npos);
}

TEST(Limits, ABrokenLimitEndsWithOneAndSpeaksOfALampFailure) {
    Scratch scratch;
    const Ran ran = scratch.run("limits --json " + recording(scratch, 128'000, 193'000));
    EXPECT_EQ(ran.exit_code, 1);
    const Json json = Json::parse(ran.out);
    EXPECT_EQ(json["schema"], "winkhold.limits/2");
    EXPECT_EQ(json["broken"], 1);
    const Json rate = finding(json, "un-ece.flash-rate");
    EXPECT_EQ(rate["ruling"], "broken");
    EXPECT_NEAR(rate["value"].get<double>(), 186.9, 0.1);
    EXPECT_NEAR(rate["margin"].get<double>(), -66.9, 0.1);
    EXPECT_EQ(rate["most"], 120);
    EXPECT_EQ(rate["mark"], "quoted");
    EXPECT_EQ(rate["clause"], "6.3.8.1");
    EXPECT_EQ(rate["where"]["of"], "left line");
    EXPECT_NE(json["notes"][0].get<std::string>().find("a lamp may have failed"), std::string::npos);
    EXPECT_NE(json["caution"].get<std::string>().find("licensed inspector"), std::string::npos);
}

// NHTSA interpretation letters 01931ztv and GF006498 (read).
TEST(Limits, NhtsasVectorIsRejectedWithBothAverages) {
    Scratch scratch;
    std::string text = "time_ms,left,right\n0,0,0\n";
    int at_ms = 1'000;
    for (int i = 0; i < 12; ++i)
        for (const int dark_ms : {200, 200, 620}) {
            text += std::to_string(at_ms) + ",1,0\n" + std::to_string(at_ms + 160) + ",0,0\n";
            at_ms += 160 + dark_ms;
        }
    const std::string path = scratch.write("letter.csv", text + "40000,0,0\n");
    const Ran ran = scratch.run("limits --json --place united-states --kind motorcycle " + path);
    EXPECT_EQ(ran.exit_code, 1);
    const Json rate = finding(Json::parse(ran.out), "united-states.flash-rate");
    EXPECT_NEAR(rate["rate"]["mean_of_rates_per_min"].get<double>(), 136.8, 0.1);
    EXPECT_NEAR(rate["rate"]["of_mean_period_per_min"].get<double>(), 120.0, 0.5);
}

TEST(Limits, WhatIsNotKnownIsNotPassed) {
    Scratch scratch;
    const Ran ran = scratch.run("limits --json " + recording(scratch, 350'000, 350'000));
    const Json json = Json::parse(ran.out);
    for (const char* id : {"un-ece.first-light", "un-ece.sequence-finished", "un-ece.sequence-gap",
                           "un-ece.sequence-direction", "any-place.stop-lamp-delay"}) {
        EXPECT_EQ(finding(json, id)["ruling"], "not judged") << id;
        EXPECT_TRUE(finding(json, id)["value"].is_null()) << id;
    }
    EXPECT_EQ(json["assumed"], Json::array({"place", "kind"}));
    const Json rate = finding(json, "un-ece.flash-rate");
    EXPECT_EQ(rate["ruling"], "not judged") << "nobody says that it is ridden there";
    EXPECT_NEAR(rate["value"].get<double>(), 85.7, 0.1);
    const Ran text = scratch.run("limits " + recording(scratch, 350'000, 350'000));
    EXPECT_NE(text.out.find("Assumed, because nobody who knows the bike says it: place un-ece, kind\n"),
              std::string::npos)
        << text.out;
    const Json said = Json::parse(
        scratch.run("limits --json --place un-ece --kind motorcycle " + recording(scratch, 350'000, 350'000))
            .out);
    EXPECT_FALSE(said.contains("assumed"));
    EXPECT_EQ(finding(said, "un-ece.flash-rate")["ruling"], "kept");
}

TEST(Limits, TheTruthBesideARecordingTellsTheFirstLight) {
    Scratch scratch;
    const std::string ride = recording(scratch, 350'000, 350'000);
    const std::string late = scratch.write("truth.csv", "time_us,indication\n0,off\n-\n");
    EXPECT_EQ(scratch.run("limits " + ride + " --truth " + late).exit_code, 2);
    const std::string truth = scratch.write("truth.csv", "time_us,indication\n0,left\n50000000,off\n");
    const Ran ran = scratch.run("limits --json " + ride + " --truth " + truth);
    EXPECT_EQ(finding(Json::parse(ran.out), "un-ece.first-light")["value"], 1.0);
    const std::string early =
        scratch.write("truth.csv", "time_us,indication\n0,off\n999999,left\n50000000,off\n");
    const Json json = Json::parse(scratch.run("limits --json " + ride + " --truth " + early).out);
    EXPECT_NEAR(finding(json, "un-ece.first-light")["value"].get<double>(), 0.000001, 1e-12);
}

TEST(Limits, ARecordingThatHasLostEdgesIsAFinding) {
    Scratch scratch;
    const std::string log =
        scratch.write("ride.log", "# winkhold recorder 1 tick_us=4\n0 00\n1000 01\no 37\n9000 00\n");
    const Ran ran = scratch.run("limits --json " + log);
    EXPECT_EQ(ran.exit_code, 1);
    const Json json = Json::parse(ran.out);
    EXPECT_EQ(json["incomplete"], true);
    EXPECT_EQ(json["broken"], 0);
    EXPECT_NE(json["notes"][0].get<std::string>().find("edges-lost"), std::string::npos);
}

TEST(Limits, TheDemoVehicleKeepsEveryLimitThatABenchCanJudge) {
    Scratch scratch;
    const Ran ran = scratch.run("limits --json data/vehicles/demo.toml");
    EXPECT_EQ(ran.exit_code, 0);
    const Json json = Json::parse(ran.out);
    EXPECT_EQ(json["place"], "un-ece");
    EXPECT_EQ(json["broken"], 0);
    for (const Json& limit : json["limits"])
        EXPECT_EQ(limit["ruling"], limit["measure"] == "by-hand" || limit["id"].get<std::string>().find(
                                                                        "emergency-stop") != std::string::npos
                                       ? "not judged"
                                       : "kept")
            << limit["id"];
}

TEST(Limits, OfAFreshVehicleFileNothingPassesAndEveryScreenSaysSo) {
    Scratch scratch;
    const std::string bike = scratch.path("bike.toml");
    ASSERT_EQ(scratch.run("new " + bike).exit_code, 0);
    for (const char* place :
         {"", " --place germany --kind motorcycle", " --place united-states --kind motorcycle"}) {
        const Json json = Json::parse(scratch.run("limits --json " + bike + place).out);
        EXPECT_EQ(json["kept"], 0) << place;
        EXPECT_EQ(json["broken"], 0) << place;
        EXPECT_TRUE(json.contains("still_example"));
    }
    for (const char* command :
         {"limits ", "sweep --trials 2 ", "sequence ", "checklist ", "checklist --markdown ",
          "checklist --paper work ", "checklist --paper labels ", "checklist --paper parts ",
          "checklist --paper owner "})
        EXPECT_NE(scratch.run(command + bike).out.find("Still the example's: "), std::string::npos)
            << command;
    EXPECT_NE(scratch.run("simulate " + bike).err.find("Still the example's: "), std::string::npos);
    for (const char* command :
         {"limits --json ", "sweep --json --trials 2 ", "sequence --json ", "checklist --json "}) {
        EXPECT_TRUE(Json::parse(scratch.run(command + bike).out).contains("still_example")) << command;
        EXPECT_FALSE(Json::parse(scratch.run(std::string(command) + "data/vehicles/demo.toml").out)
                         .contains("still_example"))
            << command;
    }
    EXPECT_EQ(scratch.run("limits data/vehicles/demo.toml").out.find("Still the example's"),
              std::string::npos);
}

// A recording of lamp lines does not tell when the switch was closed.
TEST(Limits, AFittedBikeIsNotKeptWhereItsDelayIsNotKnown) {
    Scratch scratch;
    const std::string bike = scratch.write(
        "late.toml",
        "[flasher]\nrate_per_min = 96\nduty_percent = 50\njitter_percent = 1\nstart_delay = '1300ms'\n"
        "[lines]\nbounce = '2ms'\nrise_skew = ['0ms', '3ms']\n[rider]\nscript = [\n"
        "{ show = 'left', flashes = 20 }, { show = 'off', for = '2s' },\n"
        "{ show = 'hazard', flashes = 20 }, { show = 'off', for = '2s' },\n"
        "{ show = 'right', flashes = 20 }, { show = 'off', for = '2s' }]\n");
    const std::string ride = scratch.path("ride.csv");
    ASSERT_EQ(scratch.run("simulate " + bike + " --out " + ride).exit_code, 0);
    const std::string fitted = scratch.path("fitted.toml");
    ASSERT_EQ(scratch.run("fit " + ride + " --out " + fitted).exit_code, 0);
    const std::string place = " --place un-ece --kind motorcycle --json ";
    const Json json = Json::parse(scratch.run("limits " + fitted + place).out);
    EXPECT_EQ(finding(json, "un-ece.flash-rate")["ruling"], "kept");
    const Json light = finding(json, "un-ece.first-light");
    EXPECT_EQ(light["ruling"], "not judged");
    EXPECT_NE(light["why"].get<std::string>().find("[flasher] start_delay"), std::string::npos)
        << light["why"];
    EXPECT_EQ(finding(Json::parse(scratch.run("limits " + bike + place).out), "un-ece.first-light")["ruling"],
              "not judged")
        << "side_change decides it, too";
}

TEST(Limits, AVehicleBesideARecordingBringsPlaceAndLamps) {
    Scratch scratch;
    const std::string vehicle = scratch.write(
        "bike.toml", "[vehicle]\nplace = \"germany\"\n[[lamps]]\nname = \"rear\"\njob = \"turn\"\n"
                     "side = \"left\"\ncount = 7\npattern = \"outward\"\nstep = \"40ms\"\n");
    const std::string ride = recording(scratch, 350'000, 350'000);
    const Ran ran = scratch.run("limits --json " + ride + " --vehicle " + vehicle);
    EXPECT_EQ(ran.exit_code, 1);
    const Json json = Json::parse(ran.out);
    EXPECT_EQ(json["place"], "germany");
    EXPECT_EQ(finding(json, "un-ece.sequence-finished")["ruling"], "broken");
    EXPECT_EQ(finding(json, "un-ece.sequence-finished")["value"], 240.0);
    EXPECT_EQ(
        Json::parse(
            scratch.run("limits --json --place switzerland " + ride + " --vehicle " + vehicle).out)["place"],
        "switzerland");
}

TEST(Limits, TextFitsEightyColumnsAndEndsWithTheCautions) {
    Scratch scratch;
    for (const char* of : {"data/vehicles/demo.toml", "data/scenarios/unknown.toml --place united-states"}) {
        const Ran ran = scratch.run(std::string("limits ") + of);
        std::istringstream lines(ran.out);
        for (std::string line; std::getline(lines, line);) {
            EXPECT_LE(line.size(), 80u) << line;
            EXPECT_FALSE(line.ends_with(' ')) << line;
        }
        EXPECT_NE(ran.out.find("Local law and a licensed inspector decide"), std::string::npos);
        EXPECT_NE(ran.out.find("never tune while riding"), std::string::npos);
    }
}

TEST(Limits, TheSameSeedGivesTheSameBytes) {
    Scratch scratch;
    const std::string command = "limits data/scenarios/unknown.toml --seed 7 --trials 30";
    EXPECT_EQ(scratch.run(command).out, scratch.run(command).out);
}

TEST(Limits, AnotherFolderOfLimitsIsUsed) {
    Scratch scratch;
    scratch.write("here.toml",
                  "[place]\nname = \"un-ece\"\nkinds = [\"motorcycle\"]\n[[limit]]\nid = \"rate\"\n"
                  "what = \"rate\"\nmeasure = \"flash-rate\"\nmost = 80\nunit = \"/min\"\n"
                  "publication = \"House rules\"\nclause = \"1\"\nmark = \"read\"\n");
    const Ran ran = scratch.run("limits " + recording(scratch, 350'000, 350'000) + " --limits-folder " +
                                scratch.path("."));
    EXPECT_EQ(ran.exit_code, 1);
    EXPECT_NE(ran.out.find("House rules, 1 (read)"), std::string::npos) << ran.out;
}

} // namespace
