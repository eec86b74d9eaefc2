// The checklist: what is measured is judged, what isn't stays open.
#include "winkhold/base/settings_text.hpp"
#include "winkhold/bike/checklist/checklist.hpp"
#include "winkhold/bike/checklist/measured.hpp"
#include "wiring/bike.hpp"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <set>

namespace winkhold::testing {
namespace {

using host::Standing;

const std::string signature = "with = \"eyes and meter\"\non = \"2026-03-14\"\n";

std::string entry(const std::string& what, const std::string& rest,
                  const std::string& signed_by = signature) {
    return "\n[[measured]]\nwhat = \"" + what + "\"\n" + rest + "\n" + signed_by;
}

host::Checklist with_measured(const std::string& measured, Edits edits = {}) {
    const Scratch scratch;
    edits.push_back({"", measured});
    edits.push_back({"[vehicle]\n", "[vehicle]\nkind = \"motorcycle\"\nplace = \"un-ece\"\n"});
    return host::checklist_of(host::Vehicle::read(scratch.write("a.toml", bike_with(edits))),
                              "winkhold test");
}

const host::PointRecord& point(const host::Checklist& checklist, const std::string& id) {
    const auto found = std::find_if(checklist.points.begin(), checklist.points.end(),
                                    [&](const auto& record) { return record.point.id == id; });
    if (found == checklist.points.end()) throw std::logic_error("no point " + id);
    return *found;
}

/// How one entry stands when it is all that is measured; that the exit code follows is looked at, too.
Standing standing(const std::string& what, const std::string& rest) {
    const host::Checklist checklist = with_measured(entry(what, rest));
    const Standing found = point(checklist, what).standing;
    const auto& against = checklist.readiness.against;
    EXPECT_EQ(std::any_of(against.begin(), against.end(),
                          [&](const host::Reason& one) { return one.judge == host::Judge::points; }),
              found == Standing::failed)
        << what << " " << rest;
    EXPECT_EQ(checklist.count(Standing::open) + 1, checklist.points.size());
    return found;
}

TEST(Checklist, WhatNobodyMeasuredIsOpenAndNeverPassed) {
    const host::Checklist checklist = with_measured("");
    EXPECT_GE(checklist.points.size(), 20u);
    EXPECT_EQ(checklist.count(Standing::open), checklist.points.size());
    EXPECT_EQ(checklist.readiness.verdict(), host::Verdict::open);
}

TEST(Checklist, EveryStageHasPointsAndIdsAreNamedOnce) {
    const host::Checklist checklist = with_measured("");
    std::set<std::string> ids;
    std::set<host::Stage> stages;
    for (const auto& record : checklist.points) {
        EXPECT_TRUE(ids.insert(record.point.id).second) << record.point.id;
        stages.insert(record.point.stage);
    }
    EXPECT_EQ(stages.size(), host::all_stages.size() - 1) << "all but the user's own";
}

TEST(Checklist, ALimitThatRestsOnTheExampleJudgesNothing) {
    const std::string measured = entry("bench-parked-ma", "value = 1");
    const host::Checklist own = with_measured(measured);
    EXPECT_EQ(point(own, "bench-parked-ma").standing, Standing::passed);
    EXPECT_TRUE(own.still_example.sections.empty());
    const host::Checklist example = with_measured(measured, {{"[board]", "[board]\nexample = true"}});
    EXPECT_EQ(point(example, "bench-parked-ma").standing, Standing::not_judged);
    EXPECT_EQ(example.still_example.sections, std::vector<std::string>{"board"});
    EXPECT_EQ(example.count(Standing::passed), 0u);
}

TEST(Checklist, AMeasurementOfTheExampleIsNobodys) {
    EXPECT_EQ(standing("bench-answers", "done = true"), Standing::passed);
    EXPECT_EQ(standing("bench-answers", "done = true\nexample = true"), Standing::not_judged);
}

TEST(Checklist, ARangeIncludesBothItsEnds) {
    // flashes a minute: 60 to 120, UN R53, 6.3.8.1
    const std::string id = "left-rate-per-min";
    EXPECT_EQ(standing(id, "value = 59.999"), Standing::failed);
    EXPECT_EQ(standing(id, "value = 60"), Standing::passed);
    EXPECT_EQ(standing(id, "value = 60.001"), Standing::passed);
    EXPECT_EQ(standing(id, "value = 119.999"), Standing::passed);
    EXPECT_EQ(standing(id, "value = 120"), Standing::passed);
    EXPECT_EQ(standing(id, "value = 120.001"), Standing::failed);
}

TEST(Checklist, ALimitUpwardsIncludesItself) {
    // first light: 1 s, Swiss VTS art. 79(2)
    EXPECT_EQ(standing("right-first-light-ms", "value = 999"), Standing::passed);
    EXPECT_EQ(standing("right-first-light-ms", "value = 1000"), Standing::passed);
    EXPECT_EQ(standing("right-first-light-ms", "value = 1001"), Standing::failed);
    // stop lamps: 20 ms, common practice, no source
    EXPECT_EQ(standing("bench-stop-ms", "value = 20"), Standing::passed);
    EXPECT_EQ(standing("bench-stop-ms", "value = 20.001"), Standing::failed);
    // sleep_ma = 2
    EXPECT_EQ(standing("bench-parked-ma", "value = 2"), Standing::passed);
    EXPECT_EQ(standing("bench-parked-ma", "value = 2.01"), Standing::failed);
}

TEST(Checklist, ALimitDownwardsIncludesItself) {
    const std::string id = "battery-v";
    EXPECT_EQ(standing(id, "value = 12.39\nunit = \"V\"\nleast = 12.4\nmost = 15"), Standing::failed);
    EXPECT_EQ(standing(id, "value = 12.4\nunit = \"V\"\nleast = 12.4\nmost = 15"), Standing::passed);
    EXPECT_EQ(standing(id, "value = 12.41\nunit = \"V\"\nleast = 12.4\nmost = 15"), Standing::passed);
}

TEST(Checklist, ThingsToDoAreDoneOrFailed) {
    EXPECT_EQ(standing("bench-continuity", "done = true"), Standing::passed);
    EXPECT_EQ(standing("keep-left-pilot", "done = false"), Standing::failed);
}

TEST(Checklist, WithoutALimitAValueIsNotJudged) {
    EXPECT_EQ(standing("wet-left-kohm", "value = 1000"), Standing::not_judged);
    EXPECT_EQ(standing("wet-left-kohm", "value = 1000\nleast = 1000\nmost = 9999"), Standing::passed);
    EXPECT_EQ(standing("wet-left-kohm", "value = 999\nleast = 1000"), Standing::failed);
}

TEST(Checklist, WhatNoPointIsNamedStaysInTheRecordAndPassesNothing) {
    EXPECT_EQ(with_measured(entry("left-rate", "value = 85")).count(Standing::not_judged), 1u);
    EXPECT_EQ(with_measured(entry("left-rate", "done = true")).count(Standing::not_judged), 1u);
}

TEST(Checklist, HalfALimitOfOnesOwnCanFailAndNeverPass) {
    EXPECT_EQ(standing("case-c", "value = 41\nmost = 60"), Standing::not_judged);
    EXPECT_EQ(standing("case-c", "value = 61\nmost = 60"), Standing::failed);
    EXPECT_EQ(standing("case-c", "value = 41\nleast = 42"), Standing::failed);
}

TEST(Checklist, ADayIsOneOfTheCalendar) {
    for (const char* day : {"2026-02-30", "2026-13-01", "14.3.2026", "2026-3-14", "yesterday", "2026-03-14 "})
        EXPECT_THROW(with_measured(entry("side-change", "done = true",
                                         std::string("with = \"eyes\"\non = \"") + day + "\"\n")),
                     host::InputError)
            << day;
    EXPECT_EQ(standing("side-change", "done = true"), Standing::passed);
}

TEST(Checklist, ADayAfterTheFileWasWrittenIsOpen) {
    const auto on = [](const std::string& day) {
        const Scratch scratch;
        const std::string path =
            scratch.write("a.toml", bike_with({{"", entry("side-change", "done = true",
                                                          "with = \"eyes\"\non = \"" + day + "\"\n")}}));
        using namespace std::chrono;
        // noon of 14 March 2026, UTC; at UTC+14 it is the 15th
        const sys_seconds noon = sys_days(2026y / March / 14) + 12h;
        std::filesystem::last_write_time(path, file_clock::from_sys(noon));
        return point(host::checklist_of(host::Vehicle::read(path), "winkhold test"), "side-change").standing;
    };
    EXPECT_EQ(on("2026-03-14"), Standing::passed);
    EXPECT_EQ(on("2026-03-15"), Standing::passed);
    EXPECT_EQ(on("2026-03-16"), Standing::open);
    EXPECT_EQ(on("2062-03-14"), Standing::open);
}

TEST(Checklist, StopLampsAreHeldToTheirOneLimitHoweverSlowTheTap) {
    const std::string front_end =
        "[front_end]\ntop_kohm = 120\nbottom_kohm = 47\ncapacitor_nf = 22\nclamp = \"none\"\n"
        "bleeder_ohm = 1000\npull_up_kohm = 0\npin_v = 5\ninput = \"adc\"\nsample = \"";
    const auto brake = [&](const char* sample) {
        return point(with_measured("", {{"[board]\n", front_end + sample + "\"\n\n[board]\n"}}),
                     "bench-brake-ms")
            .point;
    };
    const host::CheckPoint quick = brake("1ms"), slow = brake("40ms");
    ASSERT_TRUE(quick.most && slow.most);
    EXPECT_LT(*quick.most, 10);
    EXPECT_EQ(*slow.most, 20); // any-place.stop-lamp-delay: common practice, no source
    EXPECT_NE(slow.source.find("stop-lamp-delay"), std::string::npos);
}

TEST(Checklist, TheWetTestsLimitIsWhatMakesAFalseHigh) {
    // 16 V through the leak onto 1 kohm must stay below the least threshold of the line: at 3.5 V +- parts,
    // 1 kohm x (16 - v) / v with v from 3 to 6 V is 1.7 to 4.3 kohm, and 5 % of the bleeder's tolerance
    const std::string front_end =
        "[front_end]\ntop_kohm = 120\nbottom_kohm = 47\ncapacitor_nf = 22\nclamp = \"none\"\n"
        "bleeder_ohm = 1000\npull_up_kohm = 0\npin_v = 5\ninput = \"adc\"\n\n";
    const host::Checklist checklist = with_measured("", {{"[board]\n", front_end + "[board]\n"}});
    const auto& leak = point(checklist, "wet-left-kohm").point;
    ASSERT_TRUE(leak.least.has_value());
    EXPECT_GE(*leak.least, 1.6);
    EXPECT_LE(*leak.least, 4.55);
    EXPECT_TRUE(point(checklist, "wet-brake-dark-v").point.most.has_value());
}

TEST(Checklist, AFindingOfTheWiringIsAFinding) {
    const host::Checklist checklist = with_measured("", {{"label = \"ST\"", "label = \"\""}});
    EXPECT_EQ(checklist.readiness.verdict(), host::Verdict::not_ready);
    ASSERT_EQ(checklist.readiness.against.size(), 1u);
    EXPECT_EQ(checklist.readiness.against[0].judge, host::Judge::wiring);
}

TEST(Checklist, TheWayBackNamesEveryTapAndWhatWasCut) {
    const host::Checklist checklist =
        with_measured("", {{"cavity = [\"1\", \"2\"]", "cavity = [\"1\", \"2\"]\ncuts = true"}});
    const auto says = [&](const std::string& text) {
        return std::any_of(checklist.restore.begin(), checklist.restore.end(),
                           [&](const auto& step) { return step.find(text) != step.npos; });
    };
    EXPECT_TRUE(says("wire TL: join the left line that was cut"));
    EXPECT_TRUE(says("wire TB: join the brake line that was cut"));
    EXPECT_TRUE(says("lamps front left, front right, stop"));
    EXPECT_TRUE(checklist.restore.front().find("Battery minus off first") != std::string::npos);
}

TEST(Checklist, BuildsOnAnotherFileAndNamesBoth) {
    const Scratch scratch;
    scratch.write("base.toml", bike_with({}));
    const std::string top =
        scratch.write("top.toml", "[vehicle]\nfile = \"base.toml\"\n[decoder]\nguard = \"15ms\"\n" +
                                      entry("side-change", "done = true"));
    const host::Checklist checklist = host::checklist_of(host::Vehicle::read(top), "winkhold test");
    EXPECT_EQ(checklist.files.size(), 2u);
    EXPECT_EQ(host::value_text(checklist.decoder, "guard"), "15 ms");
    EXPECT_EQ(host::value_text(checklist.decoder, "cut_short"), "on");
    for (const host::NamedSetting& setting : host::named_settings)
        EXPECT_NE(host::value_text(checklist.decoder, setting.name), "") << setting.name;
    EXPECT_EQ(point(checklist, "side-change").standing, Standing::passed);
}

TEST(ChecklistCommand, ExitsWithOneForABrokenLimitAndForOpenOnes) {
    const Scratch scratch;
    const std::string open = scratch.write("open.toml", bike_with({}));
    const std::string broken =
        scratch.write("broken.toml", bike_with({{"", entry("bench-parked-ma", "value = 150")}}));
    for (const char* form : {"", " --csv", " --markdown", " --json"}) {
        EXPECT_EQ(scratch.run("checklist " + open + form).exit_code, 1) << form;
        EXPECT_EQ(scratch.run("checklist " + broken + form).exit_code, 1) << form;
    }
    EXPECT_NE(scratch.run("checklist " + broken).out.find("BEYOND THE LIMIT"), std::string::npos);
}

} // namespace
} // namespace winkhold::testing
