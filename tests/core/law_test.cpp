// Laws of the decoder on random edges and settings.
#include "sweep/random_rides.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace winkhold::testing {
namespace {

struct Case {
    host::Trace trace;
    core::Settings settings;
};

Case draw(std::uint64_t trial) {
    RandomStream random(21, trial);
    core::Settings settings = random_settings(random);
    if (random.whole(0, 2) == 0) return {noise(random).trace, settings};
    const auto model = static_cast<host::SideChange>(random.whole(0, 2));
    host::Scenario scenario = random_scenario(random, model);
    return {host::RideMaker(scenario).make(22, trial).trace, settings};
}

Case draw() {
    return draw(*rc::gen::inRange<std::uint64_t>(0, 1'000'000));
}

host::Timeline shifted(host::Timeline timeline, TimeUs by_us) {
    for (auto& change : timeline)
        change.t_us += by_us;
    return timeline;
}

RC_GTEST_PROP(Law, ShiftingTimeShiftsTheAnswer, ()) {
    Case one = draw();
    const host::Timeline before = host::decode(one.trace, one.settings);
    const TimeUs by_us = *rc::gen::inRange<TimeUs>(0, 10'000'000'000);
    for (auto& edge : one.trace.edges)
        edge.t_us += by_us;
    one.trace.end_us += by_us;
    RC_ASSERT(host::decode(one.trace, one.settings) == shifted(before, by_us));
}

RC_GTEST_PROP(Law, WhereTheClockWrapsMakesNoDifference, ()) {
    const Case one = draw();
    const TimeUs offset_us = *rc::gen::inRange<TimeUs>(0, std::int64_t{1} << 32);
    RC_ASSERT(host::decode(one.trace, one.settings, offset_us) == host::decode(one.trace, one.settings));
}

RC_GTEST_PROP(Law, MirroredLinesGiveTheMirroredAnswer, ()) {
    Case one = draw();
    const auto mirrored = [](std::uint8_t bits) {
        return static_cast<std::uint8_t>((bits & ~3u) | (bits & 1u) << 1 | (bits & 2u) >> 1);
    };
    host::Timeline expected = host::decode(one.trace, one.settings);
    for (auto& change : expected)
        change.indication =
            static_cast<core::Indication>(mirrored(static_cast<std::uint8_t>(change.indication)));
    for (auto& edge : one.trace.edges)
        edge.lines = core::Lines(mirrored(edge.lines.bits()));
    RC_ASSERT(host::decode(one.trace, one.settings) == expected);
}

RC_GTEST_PROP(Law, SilenceEndsInOffWithinTheHold, ()) {
    Case one = draw();
    const TimeUs silent_from_us = one.trace.edges.back().t_us + 1;
    one.trace.edges.push_back({silent_from_us, core::Lines{}});
    one.trace.end_us = silent_from_us + one.settings.hold_us;
    const host::Timeline timeline = host::decode(one.trace, one.settings);
    RC_ASSERT(timeline.back().indication == core::Indication::off);
}

RC_GTEST_PROP(Law, PulsesShorterThanSettleAreInvisibleInSilence, ()) {
    RandomStream random(23, *rc::gen::inRange<std::uint64_t>(0, 1'000'000));
    core::Settings settings = random_settings(random);
    settings.settle_us = std::max(settings.settle_us, 1'000u);
    settings.pwm_gap_us = 0;
    host::Trace trace;
    TimeUs t_us = 0;
    for (int i = 0; i < 100; ++i) {
        trace.edges.push_back({t_us += random.whole(1, 100'000), core::Lines(core::Lines::left)});
        trace.edges.push_back({t_us += random.whole(1, settings.settle_us - 1), core::Lines{}});
    }
    trace.end_us = t_us + 6'000'000;
    const host::Timeline timeline = host::decode(trace, settings);
    RC_ASSERT(timeline.size() == 1u);
    RC_ASSERT(timeline.front().indication == core::Indication::off);
}

/// Steps every microsecond, whatever happens.
host::Timeline poll(const Case& one, std::uint32_t start_us) {
    core::Decoder decoder(one.settings);
    host::Timeline timeline;
    core::Lines lines;
    std::size_t next = 0;
    for (TimeUs t_us = one.trace.edges.front().t_us; t_us <= one.trace.end_us; ++t_us) {
        while (next < one.trace.edges.size() && one.trace.edges[next].t_us == t_us)
            lines = one.trace.edges[next++].lines;
        const core::Indication now = decoder.step({start_us + static_cast<std::uint32_t>(t_us)}, lines);
        if (timeline.empty() || timeline.back().indication != now) timeline.push_back({t_us, now});
    }
    return timeline;
}

TEST(Polling, EveryMicrosecondEqualsStepsAtEdgesAndWakesOn200TracesAlsoAcrossTheWrap) {
    for (std::uint64_t trial = 0; trial < 200; ++trial) {
        Case one = draw(trial);
        one.trace.end_us = std::min<TimeUs>(one.trace.end_us, 4'000'000);
        while (one.trace.edges.back().t_us > one.trace.end_us)
            one.trace.edges.pop_back();
        const std::uint32_t start_us = trial % 2 == 0 ? 0u : 0u - 1'500'000u;
        ASSERT_EQ(poll(one, start_us), host::decode(one.trace, one.settings, start_us)) << "trial " << trial;
    }
}

} // namespace
} // namespace winkhold::testing
