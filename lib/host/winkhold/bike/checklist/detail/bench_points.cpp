// On the bench: what is looked at and measured before anything is on the bike.
#include "winkhold/bike/checklist/detail/points.hpp"

#include <cmath>

namespace winkhold::bike {
namespace {

using core::Job;

/// At 14.4 V. A fifth below it is what LEDs of more volts and resistors of more ohms may take off; a group
/// that stays dark takes off more where there are few.
std::optional<double> least_lit_ma(const BikeFacts& bike) {
    if (!bike.loads.feed_ma || !bike.board || !bike.board->board_ma) return {};
    double nominal_ma = *bike.board->board_ma;
    for (const GroupLoad& group : bike.groups)
        nominal_ma += group.nominal_ma;
    return 0.8 * nominal_ma;
}

} // namespace

void add_bench(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::bench;
    points.yes_or_no(stage, "bench-continuity",
                     "Ring out every wire by its label, end to end; none may touch another one or ground.");
    points.yes_or_no(stage, "bench-dark-at-reset",
                     "Hold the board in reset, then let it start: no lamp may light before a tap does.");
    points.yes_or_no(stage, "bench-answers",
                     "Feed the taps from a bench supply through switches, current limited: off, left, right "
                     "and hazard must come out as fed, at slow and at fast flashing.");
    points.within(stage, "bench-all-lit-ma", "Light everything at 14.4 V and read the supply's current.",
                  "mA", rounded(least_lit_ma(bike), std::floor), rounded(bike.loads.feed_ma, std::floor),
                  "[[lamps]] and [board]: 80 % of what they take at 14.4 V, all at 16 V, derived",
                  "led_ma of all [[lamps]] and board_ma in [board]");
    // a meter that reads nothing is not in the circuit
    const std::optional<double> sleep_ma = bike.board ? bike.board->sleep_ma : std::nullopt;
    points.within(stage, "bench-parked-ma", "All taps dark for a minute: read the current once more.", "mA",
                  sleep_ma ? std::optional(*sleep_ma / 100) : std::nullopt, sleep_ma,
                  "sleep_ma of [board], and a hundredth of it", "sleep_ma in [board]");
    if (has_job(bike.plan.lamps, Job::stop))
        points.within(stage, "bench-stop-ms",
                      "Brake in the middle of a fill: time from the switch to the stop lamps.", "ms",
                      bike.stop_lamp_ms ? std::optional(0.9 * bike.decoder.settle_us / 1e3) : std::nullopt,
                      bike.stop_lamp_ms,
                      "settle with a clock 10 % off, derived, to the limit stop-lamp-delay: common practice, "
                      "no source",
                      "a limit on stop-lamp-delay");
}

} // namespace winkhold::bike
