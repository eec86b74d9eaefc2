// A session with a board, both on the bench: no port, no clock but the test's.
#include "live/bench.hpp"

#include <gtest/gtest.h>
#include <random>

namespace winkhold::testing {
namespace {

using core::Indication;
using core::Lines;
using host::Notice;
using host::TimeUs;

core::Settings other_settings() {
    core::Settings settings;
    settings.settle_us = 8'000;
    settings.hold_us = 500'000;
    settings.rule = core::HoldRule::fixed;
    return settings;
}

TEST(Session, KnowsWhoTheBoardIsWhatItShowsAndHowItFlashes) {
    Bench bench;
    bench.flash(Lines::left, 30);
    const host::LiveState& state = bench.session.state();
    ASSERT_TRUE(state.hello && state.settings && state.shown);
    EXPECT_EQ(state.same_vehicle, true);
    EXPECT_EQ(*state.shown, Indication::left);
    EXPECT_EQ(state.flashes[0].on.mean_us, 350'000);
    EXPECT_EQ(state.flashes[0].dark.most_us, 350'000);
    EXPECT_NEAR(*state.flashes[0].per_min(), 60e6 / 700e3, 1e-9);
    EXPECT_EQ(state.flashes[1].per_min(), std::nullopt);
    EXPECT_GT(state.hold_us[0], 350'000);
    EXPECT_LT(state.hold_us[0], 400'000) << "paced: the learned gap and a margin";
    EXPECT_TRUE(state.in_step);
    EXPECT_EQ(state.differences, 0);
    EXPECT_EQ(state.unanswered, 0);
    EXPECT_EQ(bench.shown.size(), 2u) << "off, left";
    EXPECT_EQ(bench.session.taps().size(), 60u);
}

TEST(Session, ASettingTriedIsAnsweredTakesEffectAndIsKeptAlive) {
    Bench bench;
    bench.flash(Lines::left, 15);
    EXPECT_EQ(bench.session.try_out(other_settings()), std::nullopt);
    bench.flash(Lines::left, 2);
    EXPECT_EQ(bench.session.state().origin, link::Origin::tried);
    EXPECT_EQ(bench.session.state().settings->hold_us, 500'000u);
    EXPECT_FALSE(bench.session.state().waiting);
    bench.flash(Lines::left, 200);
    EXPECT_EQ(bench.session.state().origin, link::Origin::tried) << "140 s later";
    EXPECT_EQ(bench.session.store(), std::nullopt);
    bench.run(100'000, 0);
    EXPECT_EQ(bench.board->end().take_wish(), link::StoreWish::keep);
    EXPECT_TRUE(bench.told("stored: kept"));
    bench.run(4'000'000, 0);
    EXPECT_EQ(bench.session.state().origin, link::Origin::stored);
    EXPECT_EQ(bench.session.state().differences, 0) << "retuned when the board was";
    EXPECT_TRUE(bench.session.state().in_step);
}

TEST(Session, ABoardOfAnotherVehicleIsSeenButNotTuned) {
    Bench bench(0x12345678);
    bench.flash(Lines::left, 3);
    EXPECT_EQ(bench.session.state().same_vehicle, false);
    EXPECT_EQ(*bench.session.state().shown, Indication::left);
    for (const auto& why :
         {bench.session.try_out(other_settings()), bench.session.store(), bench.session.forget()}) {
        ASSERT_TRUE(why);
        EXPECT_NE(why->find("vehicle file is not the one"), std::string::npos);
    }
    bench.flash(Lines::left, 3);
    EXPECT_EQ(bench.session.state().origin, link::Origin::firmware);
}

TEST(Session, NothingIsTunedBeforeTheBoardHasSaidWhoItIs) {
    Bench bench;
    EXPECT_TRUE(bench.session.try_out(other_settings()));
    bench.run(100'000, 0);
    EXPECT_FALSE(bench.session.try_out(other_settings()));
    core::Settings unsafe;
    unsafe.settle_us = 30'000;
    EXPECT_TRUE(bench.session.try_out(unsafe));
}

TEST(Session, SaysWhenTheBoardAnswersOtherwiseThanItsOwnTapsDo) {
    Bench bench;
    bench.flash(Lines::left, 20);
    EXPECT_EQ(bench.told(Notice::About::difference), 0);
    // a whole line that a board with a fault would say: right, while left flashes
    bench.board->end().queue();
    link::LineWriter& line = bench.board->end().queue().begin(link::up::indication);
    line.number(bench.board->clock_us());
    line.number(static_cast<std::uint32_t>(Indication::right));
    line.hex(0, 2);
    ASSERT_TRUE(bench.board->end().queue().end(link::Importance::edge));
    bench.flash(Lines::left, 2);
    EXPECT_EQ(bench.told(Notice::About::difference), 1);
    EXPECT_EQ(bench.session.state().differences, 1);
    ASSERT_TRUE(bench.session.state().last_difference);
    EXPECT_EQ(bench.session.state().last_difference->board, Indication::right);
    EXPECT_EQ(bench.session.state().last_difference->host, Indication::left);
}

TEST(Session, JoiningMidstreamAndLosingLinesLeadsToNoFalseDifference) {
    Bench bench;
    bench.speaks = false;
    bench.flash(Lines::left, 40);
    bench.speaks = true;
    bench.flash(Lines::left, 30);
    EXPECT_TRUE(bench.session.state().in_step);
    EXPECT_TRUE(bench.session.state().hello) << "asked for";
    EXPECT_TRUE(bench.session.state().settings);
    std::mt19937 random(3);
    bench.wire = [&](const std::string& said) { return random() % 20 == 0 ? std::string() : said; };
    for (int i = 0; i < 10; ++i) {
        bench.flash(Lines::left, 5);
        bench.run(2'000'000, 0);
        bench.flash(Lines::right, 5);
        bench.run(2'000'000, 0);
    }
    EXPECT_EQ(bench.session.state().differences, 0);
    EXPECT_GT(bench.session.state().health.missing, 0);
    EXPECT_TRUE(bench.told("lines missing: "));
}

TEST(Session, ARestartIsToldAndWhatWasTriedIsGone) {
    Bench bench;
    bench.flash(Lines::left, 15);
    ASSERT_FALSE(bench.session.try_out(other_settings()));
    bench.flash(Lines::left, 2);
    bench.board = std::make_unique<SimulatedBoard>(0, nullptr, link::Start::watchdog);
    bench.flash(Lines::left, 20);
    EXPECT_TRUE(bench.told("began anew"));
    EXPECT_TRUE(bench.told("began after watchdog"));
    EXPECT_EQ(bench.session.state().origin, link::Origin::firmware);
    EXPECT_EQ(bench.session.state().differences, 0);
    EXPECT_TRUE(bench.session.state().in_step);
}

TEST(Session, ALineDownThatGetsLostIsSentAgainAndThenTold) {
    Bench bench;
    bench.run(3'000'000, 0);
    bench.hears = false;
    ASSERT_FALSE(bench.session.try_out(other_settings()));
    bench.run(500'000, 0);
    bench.hears = true;
    bench.run(1'000'000, 0);
    EXPECT_TRUE(bench.session.state().waiting) << "the second time it came through";
    bench.hears = false;
    ASSERT_FALSE(bench.session.store());
    bench.run(3'000'000, 0);
    EXPECT_TRUE(bench.told("store: the board did not answer"));
    EXPECT_GT(bench.session.state().unanswered, 0);
}

TEST(Session, SilenceAndAnotherDeviceAreToldOnceEach) {
    Bench bench;
    bench.flash(Lines::left, 2);
    bench.speaks = false;
    bench.run(20'000'000, 0);
    EXPECT_EQ(std::count_if(bench.notices.begin(), bench.notices.end(),
                            [](const Notice& one) { return one.text.find("nothing has been heard") == 0; }),
              1);
    bench.speaks = true;
    bench.run(2'000'000, 0);
    EXPECT_TRUE(bench.told("heard again"));

    Bench other;
    for (TimeUs t_us = 0; t_us < 20'000'000; t_us += 100'000) {
        other.session.received("#0 T=21.5C RH=40%\r\n", t_us);
        other.session.passed(t_us);
    }
    EXPECT_TRUE(other.told("another device"));
    EXPECT_EQ(other.session.state().hello, std::nullopt);
}

TEST(Session, FaultsComeInWordsWithWhatToDo) {
    Bench bench;
    for (int i = 0; i < 12; ++i) {
        bench.run(150'000, Lines::right);
        bench.run(150'000, 0);
    }
    EXPECT_TRUE(bench.told("right: fast-flash: flashes faster"));
    EXPECT_EQ(bench.session.state().faults[1], core::fast_flash);
}

TEST(Session, OtherSettingsShowWhatTheLastMinuteWouldHaveBeen) {
    Bench bench;
    bench.flash(Lines::left, 10);
    bench.run(3'000'000, 0);
    const host::Timeline as_it_is = bench.session.answer_with(*bench.session.state().settings);
    ASSERT_EQ(as_it_is.size(), bench.shown.size());
    for (std::size_t i = 0; i < as_it_is.size(); ++i) {
        EXPECT_EQ(as_it_is[i].indication, bench.shown[i].indication);
        EXPECT_NEAR(static_cast<double>(as_it_is[i].t_us), static_cast<double>(bench.shown[i].t_us), 1'000)
            << "the board's clock step";
    }
    core::Settings short_hold = other_settings();
    short_hold.hold_us = 200'000;
    EXPECT_EQ(bench.session.answer_with(short_hold).size(), 21u) << "a gap in each dark phase";
}

TEST(Session, LampFramesAndTheLampTestFollowTheirRules) {
    Bench bench;
    bench.run(3'000'000, 0);
    bench.session.lamp_frames(true);
    bench.flash(Lines::left, 2);
    ASSERT_TRUE(bench.session.state().lamps[0]);
    bench.run(3'000'000, 0);
    bench.session.lamp_test(1, 200);
    bench.run(100'000, 0);
    EXPECT_EQ(bench.board->end().tested_level(1), 200);
    EXPECT_EQ(bench.session.state().tested_group, 1u);
    bench.run(11'000'000, 0);
    EXPECT_EQ(bench.board->end().tested_level(1), 0) << "ten seconds are enough";
    bench.session.lamp_test(1, 200);
    bench.run(100'000, 0);
    bench.run(100'000, Lines::brake);
    EXPECT_EQ(bench.board->end().tested_level(1), 0);
    EXPECT_EQ(bench.session.state().tested_group, std::nullopt);
    bench.session.lamp_test(1, 200);
    bench.run(100'000, Lines::brake);
    EXPECT_TRUE(bench.told("only while left, right and brake are dark"));
}

TEST(Session, MemoryOfADayIsBounded) {
    host::Remembered<host::Edge> taps;
    for (TimeUs t_us = 0; t_us < 86'400'000'000; t_us += 350'000)
        taps.add({t_us, Lines((t_us / 350'000) % 2 == 0 ? 0 : 1)});
    EXPECT_LE(taps.changes().size(), 600'000'000u / 350'000 + 2);
    for (TimeUs t_us = 86'400'000'000; t_us < 86'500'000'000; t_us += 100)
        taps.add({t_us, Lines((t_us / 100) % 2 == 0 ? 0 : 1)});
    EXPECT_LE(taps.changes().size(), host::most_remembered);
}

} // namespace
} // namespace winkhold::testing
