// Whatever a recording holds, what is told about it must hang together.
#include "hindsight/support.hpp"

#include "winkhold/measure/waveform/random.hpp"

namespace winkhold::testing {
namespace {

struct AnyRecording {
    core::Settings settings;
    host::Trace trace;

    /// Anything from chatter to lines that hang for ten seconds.
    explicit AnyRecording(std::uint64_t trial) {
        host::RandomStream random(77, trial);
        settings.settle_us = static_cast<std::uint32_t>(random.whole(0, 3) * 5'000);
        settings.pwm_gap_us = random.unit() < 0.3 ? 20'000 : 0;
        settings.handover_us = random.unit() < 0.3 ? 0 : 40'000;
        const auto edges = random.whole(0, 200);
        TimeUs t_us = random.whole(0, 1'000'000);
        for (int i = 0; i < edges; ++i) {
            trace.edges.push_back({t_us, core::Lines(static_cast<std::uint8_t>(random.whole(0, 3)))});
            constexpr TimeUs most_us[] = {300, 20'000, 400'000, 900'000, 10'000'000};
            t_us += random.whole(1, most_us[random.whole(0, 4)]);
        }
        trace.end_us = t_us;
    }
};

TEST(AnyRecording, AnswersAreInOrderAndSureBetweenZeroAndOne) {
    for (std::uint64_t trial = 0; trial < 500; ++trial) {
        const AnyRecording any(trial);
        const host::Smoothed smoothed = host::smooth(any.trace, any.settings);
        ASSERT_FALSE(smoothed.timeline.empty());
        ASSERT_EQ(smoothed.confidence.size(), smoothed.timeline.size());
        for (std::size_t i = 0; i < smoothed.timeline.size(); ++i) {
            EXPECT_GT(smoothed.confidence[i], 0) << "trial " << trial;
            EXPECT_LE(smoothed.confidence[i], 1) << "trial " << trial;
            EXPECT_LE(smoothed.timeline[i].t_us, any.trace.end_us) << "trial " << trial;
            if (i == 0) continue;
            EXPECT_LT(smoothed.timeline[i - 1].t_us, smoothed.timeline[i].t_us) << "trial " << trial;
            EXPECT_NE(smoothed.timeline[i - 1].indication, smoothed.timeline[i].indication)
                << "trial " << trial;
        }
    }
}

TEST(AnyRecording, ASettledLightIsShown) {
    for (std::uint64_t trial = 0; trial < 500; ++trial) {
        const AnyRecording any(trial);
        const host::Timeline timeline = host::smooth(any.trace, any.settings).timeline;
        const auto shown = [&](TimeUs t_us, core::Side side) {
            auto next = std::upper_bound(timeline.begin(), timeline.end(), t_us,
                                         [](TimeUs t, const auto& change) { return t < change.t_us; });
            return next != timeline.begin() && core::shows(std::prev(next)->indication, side);
        };
        host::LineSettler settler(any.settings);
        const auto check = [&](const host::SettledEdgeAt& edge) {
            if (!edge.rise) return;
            EXPECT_TRUE(shown(edge.t_us - any.settings.settle_us, edge.side)) << "trial " << trial;
        };
        for (const host::Edge& edge : any.trace.edges)
            settler.feed(edge, check);
        settler.finish(any.trace.end_us, check);
    }
}

TEST(AnyRecording, DisagreementsAreInOrderAndDiffer) {
    std::size_t found = 0;
    for (std::uint64_t trial = 0; trial < 500; ++trial) {
        const AnyRecording any(trial);
        const host::Smoothed smoothed = host::smooth(any.trace, any.settings);
        TimeUs before_us = 0;
        for (const host::Disagreeing& one :
             host::disagreements(host::decode(any.trace, any.settings), smoothed.timeline,
                                 host::allowance(smoothed, any.settings), any.trace.end_us)) {
            EXPECT_LE(before_us, one.from_us) << "trial " << trial;
            EXPECT_LT(one.from_us, one.to_us) << "trial " << trial;
            EXPECT_LE(one.to_us, any.trace.end_us) << "trial " << trial;
            EXPECT_NE(one.causal, one.smoother) << "trial " << trial;
            before_us = one.to_us;
            ++found;
        }
    }
    EXPECT_GT(found, 1'000u) << "such recordings give plenty to disagree about";
}

} // namespace
} // namespace winkhold::testing
