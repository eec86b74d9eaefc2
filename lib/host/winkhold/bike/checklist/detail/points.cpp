#include "winkhold/bike/checklist/detail/points.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using core::Job;
using End = WireEnd::Kind;

class Points {
public:
    void yes_or_no(Stage stage, const std::string& id, const std::string& task) {
        add({id, stage, task, "", {}, {}, ""});
    }
    void within(Stage stage, const std::string& id, const std::string& task, const char* unit,
                std::optional<double> least, std::optional<double> most, const char* source) {
        add({id, stage, task, unit, least, most, source});
    }
    void at_most(Stage stage, const std::string& id, const std::string& task, const char* unit,
                 std::optional<double> most, const char* source, const char* missing) {
        add({id, stage, task, unit, {}, most, most ? source : missing});
    }
    std::vector<CheckPoint> take() { return std::move(points_); }

private:
    void add(CheckPoint point) {
        const std::string id = point.id;
        const auto is_taken = [&] {
            return std::any_of(points_.begin(), points_.end(),
                               [&](const CheckPoint& one) { return one.id == point.id; });
        };
        for (int number = 2; is_taken(); ++number)
            point.id = fmt::format("{}-{}", id, number);
        points_.push_back(std::move(point));
    }

    std::vector<CheckPoint> points_;
};

constexpr const char* common_practice = "common practice, no source";
constexpr const char* front_end_missing = "[front_end], or one with which a dark line reads dark";

/// Three figures, rounded to the strict side, so that what is printed is what is judged.
std::optional<double> rounded(std::optional<double> limit, double (*to_side)(double)) {
    if (!limit || !std::isfinite(*limit)) return {};
    if (*limit <= 0) return limit;
    const double digits = 2 - std::floor(std::log10(*limit));
    const double scale = std::pow(10, std::abs(digits)); // a whole number: 2.83 comes out as 2.83
    return digits >= 0 ? to_side(*limit * scale) / scale : to_side(*limit / scale) * scale;
}

void add_bench(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::bench;
    points.yes_or_no(stage, "bench-continuity",
                     "Ring out every wire by its label, end to end; none may touch another one or ground.");
    points.yes_or_no(stage, "bench-dark-at-reset",
                     "Hold the board in reset, then let it start: no lamp may light before a tap does.");
    points.yes_or_no(stage, "bench-answers",
                     "Feed the taps from a bench supply through switches, current limited: off, left, right "
                     "and hazard must come out as fed, at slow and at fast flashing.");
    points.at_most(stage, "bench-all-lit-ma", "Light everything and read the supply's current.", "mA",
                   rounded(bike.loads.feed_ma, std::floor), "[[lamps]] and [board] at 16 V, derived",
                   "led_ma of all [[lamps]] and board_ma in [board]");
    points.at_most(stage, "bench-parked-ma", "All taps dark for a minute: read the current once more.", "mA",
                   bike.sleep_ma, "sleep_ma of [board]", "sleep_ma in [board]");
    if (has_job(bike.lamps, Job::stop))
        points.at_most(stage, "bench-stop-ms",
                       "Brake in the middle of a fill: time from the switch to the stop lamps.", "ms",
                       bike.stop_lamp_ms, "limit stop-lamp-delay: common practice, no source",
                       "a limit on stop-lamp-delay");
}

void add_wet(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::wet;
    std::optional<double> least_kohm;
    std::optional<double> most_v;
    if (bike.front_end) {
        const FrontEndFigures& figures = *bike.front_end;
        least_kohm = rounded(std::max(figures.false_high_line_ohm, figures.stuck_line_ohm) / 1e3, std::ceil);
        most_v = rounded(figures.certain_low_v, std::floor);
    }
    for (const std::string_view line : tapped_lines(bike.wiring)) {
        if (line == "supply") continue;
        points.within(
            stage, fmt::format("wet-{}-kohm", line),
            fmt::format("Battery and board unplugged, key off, the line's factory lamps out, harness sprayed "
                        "wet: resistance from the {} tap wire to the wire of battery plus.",
                        line),
            "kohm", least_kohm, {},
            least_kohm ? "reads dark at 16 V all the same, derived from [front_end]" : front_end_missing);
        points.at_most(stage, fmt::format("wet-{}-dark-v", line),
                       fmt::format("Still wet, all plugged in, key on, {} not asked for: volts from its tap "
                                   "wire to ground.",
                                   line),
                       "V", most_v, "reads low for certain, derived from [front_end]", front_end_missing);
    }
    const std::optional<double> pin_kohm =
        bike.front_end
            ? rounded(std::max(bike.front_end->false_high_pin_ohm, bike.front_end->stuck_pin_ohm) / 1e3,
                      std::ceil)
            : std::nullopt;
    points.yes_or_no(
        stage, "wet-board-sealed",
        fmt::format("The board is coated and its plugs are sealed: water behind the dividers does "
                    "harm{}.",
                    pin_kohm ? fmt::format(" with less than {:g} kohm from a pin to plus", *pin_kohm)
                             : " long before it does on the lines"));
    points.yes_or_no(stage, "wet-no-false-light",
                     "Wet, key on, nothing asked for: five minutes without a flicker.");
}

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
    points.within(stage, "power-supply-drop-v",
                  "Everything lit, engine idling: volts from battery plus to the board's plus.", "V", {}, 0.5,
                  common_practice);
    points.within(stage, "power-ground-drop-v", "The same from the board's ground to battery minus.", "V", {},
                  0.2, common_practice);
}

void add_functions(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::functions;
    for (const char* side : {"left", "right", "hazard"}) {
        points.yes_or_no(
            stage, fmt::format("{}-lamps", side),
            fmt::format("{}: its lamps and no others, front and rear, until it is let go.", side));
        points.within(stage, fmt::format("{}-rate-per-min", side),
                      fmt::format("{}: flashes a minute, engine idling.", side), "/min", 60, 120,
                      "UN R53, 6.3.8.1, quoted");
    }
    for (const char* side : {"left", "right"})
        points.within(stage, fmt::format("{}-first-light-ms", side),
                      fmt::format("{}: from the switch to the first light.", side), "ms", {}, 1000,
                      "Swiss VTS art. 79(2), read");
    points.yes_or_no(stage, "side-change",
                     "Left, right, left without a pause, ten times: never both, never the old side.");
    if (has_job(bike.lamps, Job::stop))
        points.yes_or_no(stage, "stop-lamps",
                         "Each brake by itself: at once, alone and while either side or hazard flashes.");
    if (has_job(bike.lamps, Job::tail)) points.yes_or_no(stage, "tail-lamps", "Tail light with the key.");
    if (has_job(bike.lamps, Job::marker))
        points.yes_or_no(stage, "marker-lamps",
                         "Markers with the key; on a side that flashes as dim as they ought to be.");
    for (const Kept& kept : bike.wiring.kept) {
        std::string id = "keep-" + plain_name(kept.name);
        std::replace_if(
            id.begin(), id.end(),
            [](char c) { return (c < 'a' || c > 'z') && (c < '0' || c > '9') && (c & 0x80) == 0; }, '-');
        points.yes_or_no(stage, id, "Still works as it left the factory, and is plugged in.");
    }
}

void add_road(Points& points) {
    const Stage stage = Stage::road;
    points.yes_or_no(stage, "road-second-look",
                     "Somebody licensed has looked at lamps and wiring, and at what the place demands.");
    points.yes_or_no(stage, "road-closed-ground",
                     "A helper watches all lamps on closed ground: every function at idle and at speed. "
                     "Nobody tunes while riding.");
    points.yes_or_no(stage, "road-after-an-hour",
                     "After an hour's ride: no wire chafed, plugs tight, board and resistors touchable.");
    points.yes_or_no(stage, "road-after-a-night",
                     "After a night parked it starts, and every function works once more.");
}

} // namespace

std::vector<std::string_view> tapped_lines(const Wiring& wiring) {
    std::vector<std::string_view> tapped;
    for (const std::string_view line : tap_lines)
        if (std::any_of(wiring.wires.begin(), wiring.wires.end(), [&](const Wire& wire) {
                const WireEnd* const tap = wire.end(End::tap);
                return tap != nullptr && tap->name == line;
            }))
            tapped.push_back(line);
    return tapped;
}

bool has_job(const Lamps& lamps, Job job) {
    return std::any_of(lamps.begin(), lamps.end(),
                       [&](const LampGroup& group) { return group.plays.job == job; });
}

std::vector<CheckPoint> check_points(const BikeFacts& bike) {
    Points points;
    add_bench(bike, points);
    add_wet(bike, points);
    add_power(bike, points);
    add_functions(bike, points);
    add_road(points);
    return points.take();
}

} // namespace winkhold::bike
