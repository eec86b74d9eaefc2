// Limits: each is kept by a good decoder and broken by one that is bad in its way.
#include "winkhold/measure/faults/judge.hpp"
#include "winkhold/measure/faults/report.hpp"
#include "winkhold/measure/faults/run.hpp"
#include "winkhold/measure/score/events.hpp"
#include "winkhold/measure/waveform/truth.hpp"

#include <algorithm>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using host::FaultVerdict;

const std::string folder = WINKHOLD_DATA "/faults";

core::Settings plain_hold(std::uint32_t hold_us) {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.hold_us = hold_us;
    settings.handover_us = 0;
    settings.cut_short = false;
    return settings;
}

host::FaultResult result(const std::string& id, const core::Settings& settings, std::uint64_t seeds = 5) {
    return host::run_faults(host::read_faults(folder, {id}), {{"tried", settings}}, seeds, 1).results[0][0];
}

bool broke(const host::FaultResult& result, const std::string& what) {
    return std::find(result.broken.begin(), result.broken.end(), what) != result.broken.end();
}

TEST(Limits, AHoldOf100MsDropsOutInEveryDarkPhase) {
    for (const char* id : {"F03", "F04", "F07", "F09", "F10", "F11", "F22", "F24", "F28"}) {
        const host::FaultResult bad = result(id, plain_hold(100'000));
        EXPECT_EQ(bad.verdict, FaultVerdict::falls_short) << id;
        EXPECT_TRUE(broke(bad, "dropouts")) << id;
    }
}

TEST(Limits, AHoldOf100MsIsGoodWhereNoDarkPhaseHasToBeBridged) {
    EXPECT_EQ(result("F01", plain_hold(5'000'000)).verdict, FaultVerdict::falls_short) << "released 5 s late";
    const host::FaultResult off_at_once = result("F32", plain_hold(100'000));
    EXPECT_FALSE(broke(off_at_once, "release"));
}

TEST(Limits, AHoldOf840MsShowsBothSidesAfterAChange) {
    for (const char* id : {"F12", "F13", "F14", "F15", "F19", "F20", "F21", "F25", "F33"}) {
        const host::FaultResult bad = result(id, plain_hold(840'000));
        EXPECT_EQ(bad.verdict, FaultVerdict::falls_short) << id;
        EXPECT_TRUE(broke(bad, "overlap")) << id;
    }
}

TEST(Limits, ALongSettleMissesFlashesAndComesLate) {
    core::Settings slow;
    slow.settle_us = 340'000;
    EXPECT_TRUE(broke(result("F21", slow), "missed"));
    EXPECT_TRUE(broke(result("F17", slow), "acquire"));
}

TEST(Limits, WithoutHandoverATapThatIsOpenIsStillNeverHazard) {
    EXPECT_EQ(result("F07", plain_hold(840'000)).verdict, FaultVerdict::good);
}

/// One ride of left from 1 s to 3 s, lit from 1 s on.
host::Truth asked() {
    host::Request request{.show = core::Indication::left, .start_us = 1'000'000, .end_us = 3'000'000};
    request.first_light_us = request.last_light_on_us = 1'000'000;
    request.last_light_off_us = 3'000'000;
    request.flashes = 1;
    return {{request}, 5'000'000};
}

std::int64_t value(const std::vector<host::FaultFigure>& measures, const std::string& what) {
    for (const host::FaultFigure& measure : measures)
        if (measure.what == what) return measure.value;
    ADD_FAILURE() << what << " was not measured";
    return -1;
}

TEST(Judge, MeasuresByHand) {
    using core::Indication;
    const host::Heard heard{{{0, Indication::off},
                             {1'008'000, Indication::left},
                             {2'000'000, Indication::off},
                             {2'300'000, Indication::hazard},
                             {2'310'000, Indication::left},
                             {3'400'000, Indication::off}},
                            core::stuck_on};
    host::FaultLimits limits;
    limits.longest_release_us = limits.longest_acquire_us = limits.longest_outage_us = 1;
    limits.never_show = {Indication::hazard};
    limits.must_flag = {"stuck-on", "chatter"};
    const auto measures = host::judge(limits, asked(), heard, &heard);
    EXPECT_EQ(value(measures, "dropouts"), 1);
    EXPECT_EQ(value(measures, "false shows"), 1);
    EXPECT_EQ(value(measures, "missed"), 0);
    EXPECT_EQ(value(measures, "acquire"), 8'000);
    EXPECT_EQ(value(measures, "release"), 400'000);
    EXPECT_EQ(value(measures, "outage"), 300'000);
    EXPECT_EQ(value(measures, "shown hazard"), 10'000);
    EXPECT_EQ(value(measures, "stuck-on not flagged"), 0);
    EXPECT_EQ(value(measures, "chatter not flagged"), 1);
    EXPECT_EQ(value(measures, "answer hangs on the count"), 0);
}

TEST(Judge, LeavesTheOtherSideOut) {
    using core::Indication;
    const host::Heard heard{
        {{0, Indication::right}, {1'008'000, Indication::hazard}, {3'400'000, Indication::right}}, 0};
    host::FaultLimits limits;
    EXPECT_EQ(value(host::judge(limits, asked(), heard, nullptr), "false shows"), 1);
    limits.only = core::Side::left;
    EXPECT_EQ(value(host::judge(limits, asked(), heard, nullptr), "false shows"), 0);
}

TEST(Judge, AnAnswerThatHangsOnTheCountIsFound) {
    const host::Heard heard{{{0, core::Indication::off}}, 0};
    const host::Heard other{{{0, core::Indication::off}, {1, core::Indication::left}}, 0};
    EXPECT_EQ(value(host::judge({}, {}, heard, &other), "answer hangs on the count"), 1);
}

TEST(FaultVerdict, CannotTellComesFromTheDecodersOwnFlag) {
    host::FaultCase ghost = host::fault_of(host::Vehicle::read(folder + "/F05-pull-up-ghost.toml"));
    std::erase_if(ghost.variants, [](const host::FaultVariant& v) { return v.name != "above them"; });
    const auto verdict = [&] {
        return host::run_faults({ghost}, {{"tried", core::Settings{}}}, 3, 1).results[0][0];
    };
    EXPECT_EQ(verdict().verdict, FaultVerdict::cannot_tell);
    EXPECT_EQ(verdict().rides_cannot_tell, 3);
    for (host::FaultVariant& variant : ghost.variants)
        variant.limits.excused_by = {"fast-flash"};
    EXPECT_EQ(verdict().verdict, FaultVerdict::falls_short) << "that flag does not come up";
}

TEST(Run, IsTheSameOnAnyNumberOfThreads) {
    const auto text = [&](int threads) {
        return host::faults_json(host::run_faults(host::read_faults(folder, {}),
                                                  {{"a", {}}, {"b", plain_hold(840'000)}}, 3, threads));
    };
    EXPECT_EQ(text(1), text(2));
}

} // namespace
