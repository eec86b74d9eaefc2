// The board's end of the line and the computer's, with every way of losing things between them.
#include "link/simulated_board.hpp"
#include "winkhold/taps/link/board_link.hpp"

#include <gtest/gtest.h>
#include <random>
#include <vector>

namespace {

using namespace winkhold;
using namespace winkhold::testing;
using core::Indication;
using core::Lines;
using link::Answer;
using link::Origin;

/// Everything that was heard, in order.
struct Notes : host::BoardListener {
    struct Edge {
        host::TimeUs t_us;
        Lines lines;
    };
    std::vector<Edge> edges;
    std::vector<std::pair<host::TimeUs, Indication>> shown;
    std::vector<host::BoardAnswer> answers;
    std::vector<std::pair<core::Settings, Origin>> settings_heard;
    std::vector<host::BoardHello> hellos;
    std::vector<core::GroupFrame> frames;
    host::BoardCounters counted;
    int beats{0};
    std::int64_t lost{0};
    int restarts{0};

    void hello(const host::BoardHello& one) override { hellos.push_back(one); }
    void settings(const core::Settings& one, Origin from) override { settings_heard.emplace_back(one, from); }
    void edge(host::TimeUs t_us, Lines lines) override { edges.push_back({t_us, lines}); }
    void indication(host::TimeUs t_us, Indication one, Lines) override { shown.emplace_back(t_us, one); }
    void lamps(host::TimeUs, unsigned, const core::GroupFrame& frame) override { frames.push_back(frame); }
    void counters(const host::BoardCounters& one) override { counted = one; }
    void heartbeat(host::TimeUs, Lines, Indication) override { ++beats; }
    void answer(const host::BoardAnswer& one) override { answers.push_back(one); }
    void missing(std::int64_t lines) override { lost += lines; }
    void restarted(host::TimeUs) override { ++restarts; }
};

struct Heard {
    Notes notes;
    host::LinkHealth health;
};

Heard hear(std::string_view bytes, std::size_t piece = 7) {
    Heard heard;
    host::BoardLink link;
    for (std::size_t at = 0; at < bytes.size(); at += piece)
        link.feed(bytes.substr(at, piece), heard.notes);
    heard.health = link.health();
    return heard;
}

TEST(BoardEnd, SaysWhoItIsAndWhatHappens) {
    SimulatedBoard board;
    board.run(100'000, 0);
    board.flash(Lines::left, 4);
    const Heard heard = hear(board.said());
    EXPECT_EQ(heard.health.damaged + heard.health.missing + heard.health.not_understood, 0);
    ASSERT_EQ(heard.notes.hellos.size(), 1u);
    EXPECT_EQ(heard.notes.hellos[0].version, link::version);
    EXPECT_EQ(heard.notes.hellos[0].vehicle_hash, SimulatedBoard::vehicle_hash);
    ASSERT_EQ(heard.notes.settings_heard.size(), 1u);
    EXPECT_EQ(heard.notes.settings_heard[0].second, Origin::firmware);
    ASSERT_EQ(heard.notes.edges.size(), 9u) << "the levels at the start, and eight changes";
    EXPECT_EQ(heard.notes.edges[1].t_us, 100'000);
    EXPECT_EQ(heard.notes.edges[2].t_us, 450'000);
    ASSERT_EQ(heard.notes.shown.size(), 9u) << "with each settled change, too";
    EXPECT_EQ(heard.notes.shown[1].second, Indication::left);
    EXPECT_EQ(heard.notes.shown[1].first, 105'000) << "settle";
    EXPECT_EQ(heard.notes.beats, 2);
}

TEST(BoardEnd, TimesGoOnThroughTheWrapOfItsClock) {
    SimulatedBoard board(0xffffffffu - 700'000);
    board.flash(Lines::right, 3);
    const Heard heard = hear(board.said());
    EXPECT_EQ(heard.notes.edges.back().t_us - heard.notes.edges.front().t_us, 2 * 700'000 + 350'000);
}

TEST(BoardEnd, ASettingTriedTakesEffectWithTheNextSettledRiseAndFallsBackInSilence) {
    SimulatedBoard board;
    core::Settings tried;
    tried.hold_us = 400'000;
    tried.rule = core::HoldRule::fixed;
    board.run(100'000, 0);
    link::LineWriter line;
    line.begin(1, link::down::settings);
    link::put_settings(line, tried);
    line.finish();
    board.run(200'000, Lines::left);
    board.hear({line.text(), line.size()});
    board.run(150'000, Lines::left);
    EXPECT_EQ(board.board().decoder().settings().hold_us, core::Settings{}.hold_us) << "not in mid-flash";
    board.run(350'000, 0);
    board.run(10'000, Lines::left);
    EXPECT_EQ(board.board().decoder().settings().hold_us, 400'000u);
    EXPECT_EQ(board.board().decoder().indication(), Indication::left) << "without a gap";
    EXPECT_EQ(board.end().tuning().origin(), Origin::tried);
    board.flash(Lines::left, 84);
    EXPECT_EQ(board.board().decoder().settings().hold_us, 400'000u) << "59 s of silence";
    board.flash(Lines::left, 4);
    EXPECT_EQ(board.board().decoder().settings().hold_us, core::Settings{}.hold_us);
    EXPECT_EQ(board.end().tuning().origin(), Origin::firmware);
    const Heard heard = hear(board.said());
    ASSERT_EQ(heard.notes.answers.size(), 1u);
    EXPECT_EQ(heard.notes.answers[0].to, 1);
    EXPECT_EQ(heard.notes.answers[0].says, Answer::done);
    ASSERT_EQ(heard.notes.settings_heard.size(), 3u);
    EXPECT_EQ(heard.notes.settings_heard[1].second, Origin::tried);
    EXPECT_EQ(heard.notes.settings_heard[2].second, Origin::firmware);
}

TEST(BoardEnd, AComputerThatGoesOnSpeakingKeepsWhatItTries) {
    SimulatedBoard board;
    board.hear(down_line(1, link::down::settings,
                         {6'000, 0, 500'000, 10'000, 0, 60'000, 100'000, 10'000, 120'000, 0, 1, 1}));
    for (std::uint16_t i = 2; i < 100; ++i) {
        board.flash(Lines::left, 2);
        board.hear(down_line(i, link::down::here));
    }
    EXPECT_EQ(board.board().decoder().settings().settle_us, 6'000u);
}

std::vector<Answer> answers_to(SimulatedBoard& board, const std::string& lines) {
    board.said();
    board.hear(lines);
    std::vector<Answer> says;
    for (const host::BoardAnswer& answer : hear(board.said()).notes.answers)
        says.push_back(answer.says);
    return says;
}

TEST(BoardEnd, RefusesWhatNoBikeMayRideWith) {
    SimulatedBoard board;
    board.run(10'000, 0);
    const auto with = [&](std::uint32_t settle_us, std::uint32_t hold_us) {
        return answers_to(
            board, down_line(1, link::down::settings,
                             {settle_us, 0, hold_us, 10'000, 0, 60'000, 100'000, 10'000, 120'000, 1, 1, 1}));
    };
    EXPECT_EQ(with(20'000, 1'200'000), std::vector{Answer::done});
    EXPECT_EQ(with(20'001, 1'000'000), std::vector{Answer::unsafe});
    EXPECT_EQ(with(5'000, 1'200'001), std::vector{Answer::unsafe});
    EXPECT_EQ(with(5'000, 500), std::vector{Answer::refused});
    EXPECT_EQ(with(5'000, 5'000'001), std::vector{Answer::not_understood});
    EXPECT_EQ(answers_to(board, down_line(1, 'z')), std::vector{Answer::not_understood});
    EXPECT_EQ(answers_to(board, down_line(1, link::down::store, {3})), std::vector{Answer::not_understood});
}

TEST(BoardEnd, StoresAndForgetsByItsOwner) {
    SimulatedBoard board;
    const auto tried = down_line(1, link::down::settings,
                                 {6'000, 0, 500'000, 10'000, 0, 60'000, 100'000, 10'000, 120'000, 0, 1, 1});
    EXPECT_EQ(answers_to(board, tried + down_line(2, link::down::store)),
              (std::vector{Answer::done, Answer::done}));
    EXPECT_EQ(answers_to(board, down_line(3, link::down::store)), std::vector{Answer::busy});
    EXPECT_EQ(board.end().take_wish(), link::StoreWish::keep);
    EXPECT_EQ(board.end().take_wish(), link::StoreWish::none);
    EXPECT_EQ(board.end().tuning().kept().settle_us, 6'000u);
    board.flash(Lines::left, 100);
    EXPECT_EQ(board.board().decoder().settings().settle_us, 6'000u) << "silence doesn't undo what is stored";
    EXPECT_EQ(board.end().tuning().origin(), Origin::stored);
    const core::Settings kept = board.end().tuning().kept();
    SimulatedBoard again(0, &kept);
    EXPECT_EQ(again.board().decoder().settings().settle_us, 6'000u);
    EXPECT_EQ(answers_to(again, down_line(9, link::down::forget)), std::vector{Answer::done});
    EXPECT_EQ(again.end().take_wish(), link::StoreWish::forget);
    again.flash(Lines::left, 1);
    EXPECT_EQ(again.board().decoder().settings().settle_us, core::Settings{}.settle_us);
}

TEST(BoardEnd, ALampTestNeedsDarkLinesAndEndsWithTheFirstRise) {
    SimulatedBoard board;
    board.run(50'000, Lines::tail);
    EXPECT_EQ(answers_to(board, down_line(1, link::down::lamp_test, {2, 200})), std::vector{Answer::done});
    EXPECT_EQ(board.end().tested_level(2), 200);
    EXPECT_EQ(board.end().tested_level(1), 0);
    board.run(1'000, Lines::tail | Lines::brake);
    EXPECT_EQ(board.end().tested_level(2), 0) << "in the very sample";
    for (const std::uint8_t tap : {Lines::left, Lines::right, Lines::brake}) {
        board.run(20'000, tap);
        EXPECT_EQ(answers_to(board, down_line(2, link::down::lamp_test, {2, 200})),
                  std::vector{Answer::lines_lit});
        EXPECT_EQ(board.end().tested_level(2), 0);
    }
}

TEST(BoardEnd, LampFramesComeOnlyWhenAskedFor) {
    SimulatedBoard board;
    board.flash(Lines::left, 2);
    EXPECT_TRUE(hear(board.said()).notes.frames.empty());
    board.hear(down_line(1, link::down::lamps, {1}));
    board.flash(Lines::left, 2);
    const Heard heard = hear(board.said());
    EXPECT_GE(heard.notes.frames.size(), 2u * 7);
    EXPECT_EQ(std::count_if(heard.notes.frames.begin(), heard.notes.frames.end(),
                            [](const core::GroupFrame& frame) { return frame.lit == 6; }),
              2);
    board.hear(down_line(2, link::down::lamps, {0}));
    board.said();
    board.flash(Lines::left, 2);
    EXPECT_TRUE(hear(board.said()).notes.frames.empty());
}

TEST(BoardEnd, ASlowPortLosesPicturesFirstAndCountsWhatItLoses) {
    SimulatedBoard board;
    board.port(2); // as if at 20,000 baud
    board.hear(down_line(1, link::down::lamps, {1}));
    board.flash(Lines::left | Lines::right, 20, 120'000, 120'000);
    board.port(25);
    board.run(2'000'000, 0);
    board.hear(down_line(2, link::down::ask));
    board.run(200'000, 0);
    const Heard heard = hear(board.said());
    EXPECT_GT(heard.notes.lost, 0);
    EXPECT_EQ(heard.notes.lost, heard.health.missing);
    EXPECT_EQ(heard.notes.counted.dropped_lines, static_cast<std::uint32_t>(heard.notes.lost))
        << "both ends count the same";
    EXPECT_EQ(heard.notes.counted.dropped_edges, 0u);
    EXPECT_EQ(heard.notes.edges.size(), 40u) << "all of them";
}

TEST(BoardEnd, ARestartIsSeenAndItsTimeGoesOn) {
    SimulatedBoard board;
    board.flash(Lines::left, 3);
    const std::string before = board.said();
    for (const bool hello_lost : {false, true}) {
        SimulatedBoard again(0, nullptr, link::Start::watchdog);
        again.flash(Lines::right, 12);
        std::string after = again.said();
        if (hello_lost) after.erase(0, after.find('\n') + 1);
        const Heard heard = hear(before + after);
        EXPECT_EQ(heard.notes.restarts, 1);
        EXPECT_EQ(heard.health.doubled, 0);
        for (std::size_t i = 1; i < heard.notes.edges.size(); ++i)
            EXPECT_GE(heard.notes.edges[i].t_us, heard.notes.edges[i - 1].t_us);
        EXPECT_EQ(heard.notes.hellos.size(), hello_lost ? 1u : 2u);
    }
}

TEST(BoardEnd, LinesThatComeTwiceCountOnce) {
    SimulatedBoard board;
    board.flash(Lines::left, 10);
    const std::string once = board.said();
    std::string twice;
    for (std::size_t at = 0; at < once.size();) {
        const std::size_t next = once.find('\n', at) + 1;
        for (int i = 0; i < 2; ++i)
            twice += once.substr(at, next - at);
        at = next;
    }
    const Heard heard = hear(twice);
    EXPECT_EQ(heard.notes.edges.size(), hear(once).notes.edges.size());
    EXPECT_EQ(heard.health.doubled, heard.health.lines);
    EXPECT_EQ(heard.health.missing + heard.health.restarts, 0);
}

/// The same bytes with each bit flipped at this rate, and each byte lost at that one.
std::string on_a_wire(std::string_view bytes, double flips, double losses, unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> share(0, 1);
    std::string got;
    for (char c : bytes) {
        if (share(random) < losses) continue;
        for (int bit = 0; bit < 8; ++bit)
            if (share(random) < flips) c = static_cast<char>(c ^ (1 << bit));
        got += c;
    }
    return got;
}

TEST(BoardEnd, NothingFalseComesOverABadWireAndAllThatIsLostIsCounted) {
    SimulatedBoard board;
    board.flash(Lines::left, 200);
    const std::string sent = board.said();
    const Heard whole = hear(sent);
    struct Wire {
        double flips, losses, least_heard;
    };
    for (const Wire& wire : {Wire{1e-4, 0, 0.95}, Wire{1e-2, 0, 0.02}, Wire{0, 0.01, 0.6}}) {
        const Heard heard = hear(on_a_wire(sent, wire.flips, wire.losses, 5));
        EXPECT_EQ(heard.notes.restarts, 0);
        EXPECT_EQ(heard.health.not_understood, 0);
        EXPECT_GE(heard.health.lines, wire.least_heard * static_cast<double>(whole.health.lines))
            << wire.flips;
        EXPECT_LE(heard.health.lines + heard.health.missing, whole.health.lines);
        EXPECT_GE(heard.health.lines + heard.health.missing, whole.health.lines * 9 / 10);
        std::size_t from = 0;
        for (const Notes::Edge& edge : heard.notes.edges) {
            const auto true_one = std::find_if(whole.notes.edges.begin() + static_cast<std::ptrdiff_t>(from),
                                               whole.notes.edges.end(), [&](const Notes::Edge& one) {
                                                   return one.lines == edge.lines &&
                                                          one.t_us - whole.notes.edges.front().t_us >=
                                                              edge.t_us - heard.notes.edges.front().t_us;
                                               });
            ASSERT_NE(true_one, whole.notes.edges.end()) << edge.t_us;
            from = static_cast<std::size_t>(true_one - whole.notes.edges.begin());
        }
    }
}

TEST(BoardEnd, RubbishFromBelowMovesNothing) {
    SimulatedBoard board;
    board.run(50'000, 0);
    const core::Settings before = board.board().decoder().settings();
    std::mt19937 random(9);
    for (int i = 0; i < 300'000; ++i)
        board.end().add(core::Micros{board.clock_us()}, static_cast<char>(random()));
    board.flash(Lines::left, 2);
    EXPECT_EQ(board.board().decoder().settings().hold_us, before.hold_us);
    EXPECT_EQ(board.end().tested_level(0), 0);
    EXPECT_EQ(board.end().take_wish(), link::StoreWish::none);
}

} // namespace
