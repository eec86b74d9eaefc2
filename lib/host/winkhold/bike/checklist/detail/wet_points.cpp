// The wet test: leakage of each tap, dark and lit, and of the coated board.
#include "winkhold/bike/checklist/detail/points.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

/// What a meter that shows "over range" is entered as.
constexpr double open_kohm = 100'000;
/// The most that a 12 V system is at while it charges (the tables' top row).
constexpr double most_line_v = 16;
/// What a pin stands below ground.
constexpr double least_line_v = -0.3;

/// What a wet line is held to. Not known: none of them.
struct WetLimits {
    std::optional<double>
        line_kohm;               ///< from the line to plus, at least; of one that is active low, to ground
    std::optional<double> low_v; ///< of the line
    std::optional<double> high_v;
};

/// A line that its lamp pulls up stays high at 9 V in spite of the leak if nothing but the flasher's load
/// sense holds it; a lamp holds it better. The least that counts as dry is common practice.
std::optional<double> pulled_up_kohm(const FrontEnd& front_end, double high_v) {
    constexpr double least_v = 9, dry_kohm = 1;
    if (!front_end.pull_up_kohm || high_v >= least_v) return {};
    return std::max(dry_kohm, *front_end.pull_up_kohm * high_v / (least_v - high_v));
}

void add_line(std::string_view line, bool is_active_low, const WetLimits& limits, Points& points) {
    const auto volts = [&](const char* which, const std::string& task, bool is_high) {
        const bool is_known = limits.low_v && limits.high_v;
        const std::optional<double> least = is_high ? limits.high_v : std::optional(least_line_v);
        const std::optional<double> most = is_high ? std::optional(most_line_v) : limits.low_v;
        points.within(Stage::wet, fmt::format("wet-{}-{}-v", line, which), task, "V",
                      is_known ? least : std::nullopt, is_known ? most : std::nullopt,
                      is_high ? "reads high for certain, derived from [front_end]; no line has over 16 V"
                              : "a pin stands no less than -0.3 V (common practice); reads low for certain, "
                                "derived from [front_end]",
                      front_end_missing);
    };
    points.within(
        Stage::wet, fmt::format("wet-{}-kohm", line),
        fmt::format(
            "Battery and board unplugged, key off, the line's factory lamps out, harness sprayed wet: "
            "resistance from the {} tap wire to {}. Over range: enter 100000.",
            line, is_active_low ? "ground" : "the wire of battery plus"),
        "kohm", limits.line_kohm, limits.line_kohm ? std::optional(open_kohm) : std::nullopt,
        is_active_low ? "reads high at 9 V all the same, pulled up by the flasher alone, derived from "
                        "[front_end]; 1 kohm at least, common practice"
                      : "reads dark at 16 V all the same, derived from [front_end]",
        front_end_missing);
    volts(
        "dark",
        fmt::format("Still wet, all plugged in, key on, {} not asked for: volts from its tap wire to ground.",
                    line),
        is_active_low);
    volts("lit", fmt::format("And with {} lit, wet as it is: the same volts.", line), !is_active_low);
}

bool is_active_low(const BikeFacts& bike, std::string_view line) {
    return bike.front_end && std::any_of(tapped_lines.begin(), tapped_lines.end(), [&](TappedLine one) {
               return name(one) == line && bike.front_end->is_active_low(one);
           });
}

} // namespace

void add_wet(const BikeFacts& bike, Points& points) {
    const Stage stage = Stage::wet;
    const std::optional<FrontEndFigures>& figures = bike.front_end_figures;
    WetLimits high, low; // lines that are lit while they are high, and while they are low
    std::optional<double> pin_kohm;
    if (figures) {
        high.low_v = low.low_v = rounded(figures->certain_low_v, std::floor);
        high.high_v = low.high_v = rounded(figures->certain_high_v, std::ceil);
        high.line_kohm =
            rounded(std::max(figures->false_high_line_ohm, figures->stuck_line_ohm) / 1e3, std::ceil);
        low.line_kohm = rounded(pulled_up_kohm(*bike.front_end, figures->certain_high_v), std::ceil);
        pin_kohm = rounded(std::max(figures->false_high_pin_ohm, figures->stuck_pin_ohm) / 1e3, std::ceil);
    }
    points.noted(stage, "wet-water",
                 "Name the water in the note: tap water with 5 g of salt a litre stands for road spray "
                 "(common practice, no source). Spray it, don't soak.");
    points.yes_or_no(
        stage, "wet-stop",
        "Known to all who stand by: key off and plug out at once if a fuse blows, a part gets "
        "too hot to touch, smells or bubbles, or a lamp lights that nobody asked for; find out why "
        "before going on.");
    points.within(
        stage, "wet-sample-bare-kohm",
        "An uncoated scrap of the same board in the same water: resistance between two neighbouring "
        "pins. If it doesn't leak, the water proves nothing; less than 0.01: the probes touch.",
        "kohm", 0.01, 1000, common_practice);
    points.within(stage, "wet-sample-coated-kohm",
                  "A coated scrap beside it, as long in the water: the same two pins. Over range: enter "
                  "100000.",
                  "kohm", pin_kohm, open_kohm,
                  "from a pin to plus, reads dark at 16 V all the same, derived from [front_end]",
                  front_end_missing);
    for (const std::string_view line : taps_of(bike.wiring)) {
        const bool is_low = is_active_low(bike, line);
        if (line != "supply") add_line(line, is_low, is_low ? low : high, points);
    }
    points.yes_or_no(
        stage, "wet-board-sealed",
        fmt::format("The board is coated and its plugs are sealed: water behind the dividers does "
                    "harm{}.",
                    pin_kohm ? fmt::format(" with less than {:g} kohm from a pin to plus", *pin_kohm)
                             : " long before it does on the lines"));
    points.yes_or_no(stage, "wet-no-false-light",
                     "Wet, key on, nothing asked for: five minutes without a flicker.");
    points.yes_or_no(stage, "wet-dried", "Rinsed, dried, and every plug looked into before it goes on.");
}

} // namespace winkhold::bike
