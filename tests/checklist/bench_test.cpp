// The bench's expected times, against what one works out by hand.
#include "checklist/ready_bike.hpp"
#include "winkhold/measure/front_end/tap_edges.hpp"

#include <algorithm>

namespace winkhold::testing {
namespace {

host::CheckPoint point(const host::Checklist& checklist, const std::string& id) {
    for (const host::PointRecord& record : checklist.points)
        if (record.point.id == id) return record.point;
    throw std::logic_error("no point " + id);
}

// The demo: settle 5 ms, 85 flashes a minute of which 50 % are lit, a clock 1 % off. The taps' own delays,
// with the sampling, are from the front end's figures, which tests/electrics holds to closed forms.
constexpr double settle_ms = 5, dark_ms = 60e3 / 85 / 2, slow = 1.01, quick = 0.99;

host::Range between_9_and_16_v(const host::FrontEnd& front_end, host::TappedLine line, bool lit) {
    host::Range all{1e9, 0};
    for (const double line_v : {9.0, 12.0, 14.4, 16.0}) {
        const host::EdgeFigures edges = host::edges_at(line_v, front_end, line);
        const host::Range one = lit ? edges.lit_us(false) : edges.dark_us(false);
        all = {std::min(all.least, one.least), std::max(all.most, one.most)};
    }
    return {all.least / 1e3, all.most / 1e3};
}

TEST(BenchTimes, AreSettleAndTheTapsDelay) {
    const host::Checklist checklist = checklist_of_text(demo_text());
    const host::FrontEnd front_end = *host::front_end_of(host::Vehicle::demo());
    const host::Range left = between_9_and_16_v(front_end, host::TappedLine::left, true);
    const host::Range brake = between_9_and_16_v(front_end, host::TappedLine::brake, true);
    const host::Range let_go = between_9_and_16_v(front_end, host::TappedLine::brake, false);
    struct Expected {
        const char* id;
        host::Range tap_ms;
    };
    for (const Expected& one : {Expected{"bench-left-first-ms", left},
                                {"bench-right-first-ms", left},
                                {"bench-brake-ms", brake},
                                {"bench-brake-in-left-ms", brake},
                                {"bench-brake-in-hazard-ms", brake},
                                {"bench-brake-off-ms", let_go}}) {
        const host::CheckPoint found = point(checklist, one.id);
        // three figures are printed, least downwards and most upwards
        EXPECT_NEAR(*found.least, quick * settle_ms + one.tap_ms.least, 0.01) << one.id;
        EXPECT_NEAR(*found.most, slow * settle_ms + one.tap_ms.most, 0.01) << one.id;
    }
}

TEST(BenchTimes, OfAHazardInATurnWaitForTheNextLight) {
    const host::FrontEnd front_end = *host::front_end_of(host::Vehicle::demo());
    const host::Range right = between_9_and_16_v(front_end, host::TappedLine::right, true);
    const host::CheckPoint found = point(checklist_of_text(demo_text()), "bench-hazard-in-left-ms");
    EXPECT_NEAR(*found.most, slow * (dark_ms + settle_ms) + right.most, 1);
}

TEST(BenchTimes, OfLettingGoAreNeverZero) {
    const host::Checklist checklist = checklist_of_text(demo_text());
    for (const char* id : {"bench-left-off-ms", "bench-right-off-ms", "bench-hazard-off-ms",
                           "bench-key-off-ms", "bench-left-in-hazard-ms"})
        EXPECT_GT(*point(checklist, id).least, 4) << id;
}

TEST(BenchTimes, FollowTheDecoderAndTheSampling) {
    std::string text = demo_text();
    text.replace(text.find("settle = \"5ms\""), 14, "settle = \"9ms\"");
    const host::CheckPoint usual = point(checklist_of_text(demo_text()), "bench-left-first-ms");
    const host::CheckPoint slower = point(checklist_of_text(text), "bench-left-first-ms");
    EXPECT_NEAR(*slower.least - *usual.least, quick * 4, 0.02);
    EXPECT_NEAR(*slower.most - *usual.most, slow * 4, 0.1); // three figures above ten
    text.replace(text.find("sample = \"1ms\""), 14, "sample = \"3ms\"");
    EXPECT_NEAR(*point(checklist_of_text(text), "bench-left-first-ms").most - *slower.most, 2, 0.11);
}

} // namespace
} // namespace winkhold::testing
