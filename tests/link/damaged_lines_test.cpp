// Ten million lines, each damaged: none is taken for another.
#include "link/simulated_board.hpp"
#include "winkhold/taps/link/board_link.hpp"

#include <algorithm>
#include <array>
#include <gtest/gtest.h>
#include <random>

namespace winkhold::testing {
namespace {

TEST(DamagedLines, OfTenMillionNoneIsReadAsALine) {
    SimulatedBoard board;
    board.flash(core::Lines::left, 300);
    const std::string sent = board.said();
    host::BoardLink link;
    host::BoardListener nobody;
    std::mt19937 random(5);
    std::int64_t damaged = 0;
    while (damaged < 10'000'000) {
        std::string bytes = sent;
        for (std::size_t at = 0; at < bytes.size(); ++damaged) {
            const std::size_t end = bytes.find('\n', at);
            // one to three bits of different bytes: a CRC-32 tells all of them in lines this short
            std::array<std::size_t, 3> places{};
            const std::size_t flips = 1 + random() % 3;
            for (std::size_t i = 0; i < flips; ++i) {
                do
                    places[i] = at + random() % (end - at);
                while (std::find(places.begin(), places.begin() + static_cast<std::ptrdiff_t>(i),
                                 places[i]) != places.begin() + static_cast<std::ptrdiff_t>(i));
                bytes[places[i]] = static_cast<char>(bytes[places[i]] ^ (1 << (random() & 7)));
            }
            at = end + 1;
        }
        link.feed(bytes, nobody);
    }
    EXPECT_EQ(link.health().lines, 0);
    EXPECT_EQ(link.health().not_understood, 0);
    EXPECT_GT(link.health().damaged, damaged * 9 / 10);
}

} // namespace
} // namespace winkhold::testing
