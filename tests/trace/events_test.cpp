#include "winkhold/taps/trace/events.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using host::TimeUs;

TEST(DecodedFeed, TellsEveryListenerInOrder) {
    host::DecodedFeed feed{core::Settings{}};
    std::vector<std::string> heard;
    for (const char* who : {"first", "second"}) {
        feed.on_edge([&heard, who](const host::Edge& edge) {
            heard.push_back(std::string(who) + " edge " + std::to_string(edge.t_us));
        });
        feed.on_indication([&heard, who](TimeUs t_us, core::Indication indication) {
            heard.push_back(std::string(who) + " shows " + std::to_string(static_cast<int>(indication)) +
                            " " + std::to_string(t_us));
        });
        feed.on_fault([&heard, who](const host::FaultEvent& event) {
            heard.push_back(std::string(who) + " fault " + std::to_string(event.fault) + " " +
                            std::to_string(event.t_us));
        });
    }
    feed.feed({0, core::Lines{}});
    feed.feed({1'000, core::Lines(core::Lines::left)});
    feed.finish(4'000'000);
    const std::vector<std::string> expected{
        "first edge 0",          "second edge 0",         "first shows 0 0",    "second shows 0 0",
        "first edge 1000",       "second edge 1000",      "first shows 1 6000", "second shows 1 6000",
        "first fault 2 3006000", "second fault 2 3006000"};
    EXPECT_EQ(heard, expected);
}

TEST(DecodedFeed, TellsAFaultAgainOnlyAfterItHasGone) {
    host::DecodedFeed feed{core::Settings{}};
    int faults = 0;
    feed.on_fault([&](const host::FaultEvent&) { ++faults; });
    const auto on_for = [&](TimeUs from_us, TimeUs to_us) {
        feed.feed({from_us, core::Lines(core::Lines::right)});
        feed.feed({to_us, core::Lines{}});
    };
    on_for(0, 9'000'000);
    EXPECT_EQ(faults, 1);
    on_for(10'000'000, 14'000'000);
    EXPECT_EQ(faults, 2);
}

TEST(Replay, AnswersOverHoursThoughTheCoresClockWraps) {
    // a flash every ten minutes for twelve hours: ten wraps
    host::Trace trace;
    for (TimeUs t_us = 0; t_us < 43'200'000'000; t_us += 600'000'000) {
        trace.edges.push_back({t_us, core::Lines(core::Lines::left)});
        trace.edges.push_back({t_us + 300'000, core::Lines{}});
    }
    trace.end_us = 43'200'000'000;
    const host::Timeline timeline = host::decode(trace, core::Settings{});
    ASSERT_EQ(timeline.size(), 1 + 2 * trace.edges.size() / 2);
    for (std::size_t i = 1; i < timeline.size(); i += 2) {
        EXPECT_EQ(timeline[i].t_us % 600'000'000, 5'000);
        EXPECT_EQ(timeline[i + 1].t_us - timeline[i].t_us, 300'000 + 1'000'000 - 5'000);
    }
}

} // namespace
