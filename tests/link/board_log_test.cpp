// A board's log as a file: every byte at once, marks on lines of their own.
#include "link/simulated_board.hpp"
#include "temp.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/taps/capture/recording.hpp"
#include "winkhold/taps/link/board_log.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

using core::Lines;

TEST(BoardLog, WritesOverNothing) {
    const TempFolder folder;
    const std::string path = folder.write("kept.log", "precious\n");
    EXPECT_THROW(host::BoardLog(path, false), host::InputError);
    EXPECT_EQ(folder.read("kept.log"), "precious\n");
    EXPECT_THROW(host::BoardLog("/dev/null", true), host::InputError);
    EXPECT_THROW(host::BoardLog(folder.path("none/there.log"), false), host::InputError);
    host::BoardLog replaced(path, true);
    EXPECT_EQ(folder.read("kept.log"), "# winkhold link 2\n");
}

TEST(BoardLog, HoldsTheVeryBytesAndMarksOnLinesOfTheirOwn) {
    const TempFolder folder;
    SimulatedBoard board;
    board.flash(Lines::left, 10);
    const std::string said = board.said();
    const std::string path = folder.path("ride.log");
    {
        host::BoardLog log(path, false);
        const std::size_t middle = said.find(" e ", said.size() / 2) + 5;
        log.add(said.substr(0, middle));
        EXPECT_EQ(folder.read("ride.log"), "# winkhold link 2\n" + said.substr(0, middle)) << "at once";
        log.mark("blinked twice: odd\x1b[2J", log.now_us() + 250'000);
        log.add(said.substr(middle));
        log.mark("", log.now_us());
    }
    const std::vector<host::Mark> marks = host::read_marks(path);
    ASSERT_EQ(marks.size(), 2u);
    EXPECT_EQ(marks[0].note, "blinked twice. odd?[2J");
    EXPECT_GT(marks[0].t_us, 2'000'000);
    EXPECT_LT(marks[0].t_us, marks[1].t_us);
    EXPECT_EQ(marks[1].note, "");
    EXPECT_EQ(marks[0].settings.hold_us, core::Settings{}.hold_us);

    std::string without = folder.read("ride.log");
    for (std::size_t at; (at = without.find("# ")) != std::string::npos;)
        without.erase(at, without.find('\n', at) + 1 - at);
    EXPECT_EQ(without, said);
    const auto recording = host::open_recording(path, {});
    EXPECT_EQ(host::read_all(*recording).edges.size(), 20u);
    EXPECT_TRUE(recording->caveats().empty());
}

TEST(BoardLog, CanBeReadWhereverItWasCut) {
    const TempFolder folder;
    SimulatedBoard board;
    board.flash(Lines::left, 5);
    {
        host::BoardLog log(folder.path("whole.log"), false);
        log.add(board.said());
    }
    const std::string whole = folder.read("whole.log");
    const auto all = host::read_all(*host::open_recording(folder.path("whole.log"), {}));
    int readable = 0;
    for (std::size_t size = 150; size <= whole.size(); ++size) {
        const std::string path = folder.write("cut.log", whole.substr(0, size));
        try {
            const auto cut = host::read_all(*host::open_recording(path, {}));
            ASSERT_LE(cut.edges.size(), all.edges.size());
            for (std::size_t i = 0; i < cut.edges.size(); ++i)
                ASSERT_EQ(cut.edges[i], all.edges[i]) << size;
            ++readable;
        } catch (const host::InputError& error) { // cut ahead of the first level: said so
            ASSERT_NE(std::string(error.what()).find("what the taps were"), std::string::npos);
        }
    }
    EXPECT_GT(readable, 300);
}

} // namespace
} // namespace winkhold::testing
