// The screen without a terminal: keys in, rows of text out.
#include "live/bench.hpp"
#include "temp.hpp"
#include "text/lines.hpp"
#include "winkhold/live/screen/desk.hpp"
#include "winkhold/live/screen/lines.hpp"
#include "winkhold/live/screen/tunables.hpp"

#include "winkhold/base/settings_text.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

using core::Lines;
using host::Key;

std::string text_of(const host::Picture& picture) {
    std::string text;
    for (const auto& row : picture) {
        for (const host::Piece& piece : row)
            text += piece.text;
        text += '\n';
    }
    return text;
}

class ADesk : public ::testing::Test {
protected:
    void type(std::string_view text) {
        for (const char c : text)
            desk.key(Key::character, c);
    }
    std::string drawn(host::ScreenSize size = {80, 24, true}) {
        return text_of(desk.draw(size, bench.clock_us));
    }

    TempFolder folder;
    Bench bench;
    host::Desk desk{bench.session, "/dev/a-port", folder.path("ride.log"), false};
};

TEST_F(ADesk, FitsEverySizeAndAlwaysCautions) {
    bench.flash(Lines::left, 12);
    for (std::size_t columns = 20; columns <= 220; columns += 7)
        for (std::size_t rows = 2; rows <= 70; rows += 3)
            for (const bool utf8 : {true, false}) {
                const std::string text = drawn({columns, rows, utf8});
                ASSERT_LE(std::count(text.begin(), text.end(), '\n'), static_cast<std::ptrdiff_t>(rows));
                ASSERT_EQ(too_wide(text, columns), std::vector<std::string>{});
                ASSERT_NE(text.find("At standstill only"), std::string::npos);
                const bool is_plain = std::all_of(text.begin(), text.end(),
                                                  [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); });
                ASSERT_TRUE(utf8 || is_plain);
            }
}

TEST_F(ADesk, ShowsTapsAnswerFiguresAndTheLink) {
    bench.flash(Lines::left, 14);
    const std::string text = drawn();
    for (const char* part : {"shows left", "85.7/min", "on 350 ms (350-350)", "vehicle 1a2b3c4d = file",
                             "settings in force: firmware", "settle 5 ms", "no fault", "the same answers",
                             "0 missing", "recording "})
        EXPECT_NE(text.find(part), std::string::npos) << part << '\n' << text;
}

TEST_F(ADesk, AChangeShowsTheLastMinuteAndIsTriedOnlyByEnter) {
    bench.flash(Lines::left, 14);
    bench.run(3'000'000, 0);
    EXPECT_EQ(drawn().find("changed left"), std::string::npos);
    type("");
    desk.key(Key::down);
    desk.key(Key::down);
    for (int i = 0; i < 4; ++i)
        type("-");
    const std::string text = drawn();
    EXPECT_NE(text.find("> hold 200 ms not 1000 ms"), std::string::npos) << text;
    EXPECT_NE(text.find("changed left"), std::string::npos);
    EXPECT_NE(text.find("differs 14 times"), std::string::npos) << text;
    EXPECT_EQ(bench.board->end().tuning().waits(), false);
    desk.key(Key::enter);
    bench.run(100'000, 0);
    EXPECT_EQ(bench.board->end().tuning().waits(), true);
    bench.flash(Lines::left, 3);
    EXPECT_EQ(bench.session.state().settings->hold_us, 200'000u);
    EXPECT_EQ(drawn().find("changed left"), std::string::npos) << "it is in force";
}

TEST_F(ADesk, StoringAsksFirst) {
    bench.flash(Lines::left, 3);
    type("s");
    EXPECT_NE(drawn().find("y stores"), std::string::npos);
    type("n");
    bench.run(200'000, 0);
    EXPECT_EQ(bench.board->end().take_wish(), link::StoreWish::none);
    type("sy");
    bench.run(200'000, 0);
    EXPECT_EQ(bench.board->end().take_wish(), link::StoreWish::keep);
    type("xy");
    bench.run(200'000, 0);
    EXPECT_EQ(bench.board->end().take_wish(), link::StoreWish::forget);
}

TEST_F(ADesk, AMarkHasTheMomentOfTheKeyAndTheNote) {
    bench.wire = [this](const std::string& said) {
        desk.came(said, bench.clock_us);
        return said;
    };
    bench.flash(Lines::left, 4);
    drawn();
    type("m");
    bench.flash(Lines::left, 4); // somebody types slowly
    type("one blink too many");
    desk.key(Key::enter);
    bench.flash(Lines::left, 1);
    const std::vector<host::Mark> marks = host::read_marks(folder.path("ride.log"));
    ASSERT_EQ(marks.size(), 1u);
    EXPECT_EQ(marks[0].note, "one blink too many");
    EXPECT_NEAR(static_cast<double>(marks[0].t_us), 4 * 700e3, 400e3);
}

TEST_F(ADesk, LeavesOnQButNotWithinANote) {
    bench.run(100'000, 0);
    type("m");
    type("q");
    EXPECT_FALSE(desk.is_done());
    desk.key(Key::escape);
    type("q");
    EXPECT_TRUE(desk.is_done());
}

TEST_F(ADesk, EverySettingCanBeChangedAndNoneLeavesWhatABikeMayRideWith) {
    for (std::size_t which = 0; which < host::named_settings.size(); ++which)
        for (const int direction : {-1, 1}) {
            core::Settings settings;
            bool has_changed = false;
            for (int i = 0; i < 3'000; ++i) {
                const core::Settings next = host::stepped(settings, which, direction);
                const std::string_view name = host::named_settings[which].name;
                has_changed = has_changed || host::value_text(next, name) != host::value_text(settings, name);
                settings = next;
                ASSERT_EQ(core::check(settings), core::SettingsError::none);
                ASSERT_TRUE(link::allowed_on_a_bike(settings));
            }
            EXPECT_TRUE(has_changed || (direction < 0 && core::Settings{}.gap_prior_us == 0))
                << host::named_settings[which].name;
        }
}

} // namespace
} // namespace winkhold::testing
