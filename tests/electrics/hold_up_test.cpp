// The bulk capacitor with board and lamps on its node, against ngspice (Debian), a circuit simulator.
#include "program/run.hpp"
#include "winkhold/bike/electrics/detail/judge_board.hpp"

#include <cmath>
#include <fmt/format.h>
#include <sstream>

namespace winkhold::testing {
namespace {

using namespace host;

struct Strings {
    int count;
    int in_series;
    LampColour colour;
    double led_v;
};

LampGroup group_of(const Strings& strings) {
    LampGroup g;
    g.name = "lamps";
    g.plays.count = static_cast<std::uint16_t>(strings.count * strings.in_series);
    g.colour = strings.colour;
    g.led_v = strings.led_v;
    g.led_ma = 20;
    g.in_series = strings.in_series;
    g.feed = LampFeed::resistor;
    g.driver = LampDriver::transistor;
    return g;
}

/// When the capacitor is down to `to_v`, in ms, with nominal parts.
double simulated_ms(const Board& board, const std::vector<GroupLoad>& groups, double to_v) {
    const Scratch scratch;
    const double drop_v = board.reverse_drop_v();
    std::string draws = board.regulator == Regulator::switching
                            ? fmt::format("{:.12g}/V(node)", *board.board_ma / 1e3 * *board.regulator_v /
                                                                 (*board.efficiency_percent / 100))
                            : fmt::format("{:.12g}", *board.board_ma / 1e3);
    for (const GroupLoad& group : groups)
        for (const LampString& s : group.strings)
            draws += fmt::format(" + {}*max(0, V(node) - {:.12g})/{:.12g}", s.count, s.falls_v - drop_v,
                                 *s.resistor_ohm);
    const std::string output = scratch.path("node.data");
    const std::string circuit = scratch.write(
        "hold.cir", fmt::format("hold-up\nCbulk node 0 {:.12g} IC={:.12g}\nBdraw node 0 I = {}\n"
                                ".options reltol=1e-6\n.control\nset filetype=ascii\nset numdgt=12\n"
                                "set wr_singlescale\ntran 1u 60m 0 5u uic\nwrdata {} v(node)\nquit\n"
                                ".endc\n.end\n",
                                board.bulk_uf * 1e-6, 9 - drop_v, draws, output));
    const std::string command = "ngspice -b '" + circuit + "' >'" + scratch.path("log") + "' 2>&1";
    EXPECT_EQ(std::system(command.c_str()), 0) << "ngspice is missing or failed:\n" << scratch.read("log");
    std::istringstream samples(scratch.read("node.data"));
    double at_s = 0, volts = 0;
    while (samples >> at_s >> volts)
        if (volts <= to_v) return at_s * 1e3;
    return NAN;
}

TEST(HoldUp, IsWhatACircuitSimulatorFinds) {
    const Lamps lamps{group_of({12, 1, LampColour::amber, 2.1}), group_of({6, 3, LampColour::red, 2.0}),
                      group_of({5, 2, LampColour::white, 3.2})};
    for (const Regulator regulator : {Regulator::linear, Regulator::switching})
        for (const double bulk_uf : {100.0, 470.0})
            for (const double least_v : {4.3, 2.7}) {
                Board board;
                board.board_ma = 25;
                board.regulator = regulator;
                board.regulator_v = 5;
                board.efficiency_percent = 85;
                board.dropout_v = 1.1;
                board.least_v = least_v;
                board.reverse = ReversePart::schottky;
                board.bulk_uf = bulk_uf;
                Checks checks;
                std::vector<GroupLoad> groups;
                for (const LampGroup& group : lamps)
                    groups.push_back(strings_of(group, board.feeds(LampDriver::transistor).value(), checks));
                const double ms = simulated_ms(board, groups, least_v + 1.1);
                EXPECT_NEAR(hold_up_ms(board, lamps, groups, false), ms, 0.002 * ms + 0.01);
            }
}

} // namespace
} // namespace winkhold::testing
