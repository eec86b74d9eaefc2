// First power on the bike: polarity, fuses, currents, in this order.
#include "winkhold/bike/checklist/detail/points.hpp"

#include "winkhold/base/joined.hpp"

#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

std::optional<double> share_of_board(const BikeFacts& bike, double share, double (*to_side)(double)) {
    if (!bike.board || !bike.board->board_ma) return {};
    return rounded(share * bike.board->board_ma.value(), to_side);
}

} // namespace

void add_power(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::power;
    std::vector<std::string> fuses;
    for (const Wire& wire : bike.wiring.wires)
        if (wire.fuse_a) fuses.push_back(fmt::format("{} {:g} A", wire_name(wire), *wire.fuse_a));
    points.yes_or_no(stage, "power-polarity",
                     "Before the board is plugged in: plus and ground at its plug, by meter.");
    points.yes_or_no(stage, "power-fuses",
                     fuses.empty()
                         ? std::string("A fuse sits where each wire leaves a live one.")
                         : fmt::format("Fuses sit where their wires begin: {}.", joined(fuses, ", ")));
    const std::optional<double> feed_a =
        bike.loads.feed_ma ? std::optional(*bike.loads.feed_ma / 1e3) : std::nullopt;
    const std::optional<double> fuse_a = feed_a ? fuse_for(*feed_a) : std::nullopt;
    points.yes_or_no(
        stage, "power-first",
        fmt::format("First power from a bench supply that is limited{}, or through a fuse of {}: "
                    "key on, nothing asked for, a hand on the plug.",
                    feed_a ? fmt::format(" to {:.2g} A", std::ceil(*feed_a * 12) / 10) : "",
                    fuse_a ? fmt::format("{:g} A", *fuse_a) : "the smallest size there is"));
    points.within(stage, "power-first-ma", "And its current, lights off.", "mA",
                  share_of_board(bike, 0.2, std::floor), share_of_board(bike, 1.5, std::ceil),
                  "a fifth to half more of board_ma in [board], common practice, no source",
                  "board_ma in [board]");
    points.within(
        stage, "power-supply-drop-v",
        "Everything lit, engine idling: volts from battery plus to the board's plus. No drop at all: "
        "nothing is lit, or both probes are on one side.",
        "V", 0.001, 0.5, common_practice);
    points.within(stage, "power-ground-drop-v", "The same from the board's ground to battery minus.", "V",
                  0.001, 0.2, common_practice);
}

} // namespace winkhold::bike
