#include "winkhold/bike/pack/detail/board_plan.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using core::Indication;
using core::Job;

/// In the order in which tap_pins names them; the second brake comes last, so that a file without one has
/// five.
constexpr std::array tap_order{TappedLine::left, TappedLine::right,  TappedLine::brake,
                               TappedLine::tail, TappedLine::supply, TappedLine::second_brake};

class TapPlan {
public:
    TapPlan(const Vehicle& vehicle, const FrontEnd& front_end, const Board& board)
        : vehicle_(vehicle), front_end_(front_end), board_(board) {}

    std::vector<PlannedTap> all() {
        if (board_.tap_pins.size() > tap_order.size())
            refuse(vehicle_, "board.tap_pins",
                   "names over six pins; they are left, right, brake, tail, supply, second brake");
        std::vector<PlannedTap> taps;
        for (std::size_t i = 0; i < board_.tap_pins.size(); ++i)
            if (!board_.tap_pins[i].empty()) taps.push_back(tap(tap_order[i], board_.tap_pins[i]));
        for (std::size_t i = 1; i < taps.size(); ++i)
            for (std::size_t before = 0; before < i; ++before)
                if (taps[before].pin == taps[i].pin)
                    refuse(vehicle_, "board.tap_pins",
                           fmt::format("reads {} and {} at one pin, {}", name(taps[before].line),
                                       name(taps[i].line), text(*taps[i].pin)));
        return taps;
    }

private:
    PlannedTap tap(TappedLine line, const std::string& pin_name) {
        const ChipPin* const pin = chip_pin(pin_name);
        const auto no = [&](const std::string& why) {
            refuse(vehicle_, "board.tap_pins", fmt::format("tap {} at {}: {}", name(line), pin_name, why));
        };
        if (pin == nullptr) no("the chip has no such pin; write it like A0 or PC0");
        if (!pin->reserved.empty()) no(fmt::format("the chip needs that pin ({})", pin->reserved));
        PlannedTap planned{line, pin, true, {}};
        if (front_end_.input == InputKind::adc) {
            if (!pin->adc) no("the converter doesn't read that pin; take one of A0 to A7");
            planned.counts = counts();
        } else if (!pin->is_digital()) {
            no("only the converter reads that pin, but [front_end] input is not \"adc\"");
        }
        const std::optional<bool> inverts = front_end_.pin_inverts();
        if (!front_end_.input)
            refuse(vehicle_, "front_end.input", "how the pins are read is not known; enter input");
        if (!inverts)
            refuse(vehicle_, "front_end.input",
                   "whether the Schmitt trigger's output is low while the line is high is not known; enter "
                   "part, or inverts = true or false");
        planned.lit_high = *inverts == front_end_.is_active_low(line);
        return planned;
    }

    PlannedTap::Counts counts() const {
        constexpr double full_scale = 1024; // 10 bits
        if (!front_end_.top_kohm || !front_end_.bottom_kohm || !front_end_.pin_v)
            refuse(vehicle_, "front_end",
                   "the converter's thresholds can't be worked out; enter top_kohm, bottom_kohm and pin_v");
        for (const char* threshold : {"front_end.on_above", "front_end.off_below"})
            if (!vehicle_.given(threshold))
                refuse(vehicle_, threshold, "is missing; enter the volts of the line that are lit, and dark");
        const double gain = *front_end_.bottom_kohm / (*front_end_.top_kohm + *front_end_.bottom_kohm);
        const double per_line_v = gain / *front_end_.pin_v * full_scale;
        // rounded away from each other, so that neither threshold is weaker than it was judged
        const double high = std::ceil(front_end_.on_above_v * per_line_v);
        const double low = std::floor(front_end_.off_below_v * per_line_v);
        if (high > full_scale - 1 || low >= high)
            refuse(vehicle_, "front_end.on_above",
                   fmt::format("the converter can't tell {:g} V from {:g} V of the line: counts {:.0f} and "
                               "{:.0f} of 1024; choose another divider",
                               front_end_.on_above_v, front_end_.off_below_v, high, low));
        return {static_cast<int>(high), static_cast<int>(low)};
    }

    const Vehicle& vehicle_;
    const FrontEnd& front_end_;
    const Board& board_;
};

/// Each group's lines are read somewhere.
void refuse_deaf_lamps(const Vehicle& vehicle, const BoardPlan& plan) {
    const auto hears = [&](TappedLine line) {
        return std::any_of(plan.taps.begin(), plan.taps.end(),
                           [&](const PlannedTap& tap) { return tap.line == line; });
    };
    for (const LampGroup& group : plan.lamps.lamps) {
        const core::LampGroup& plays = group.plays;
        const auto need = [&](bool follows, TappedLine line) {
            if (follows && !hears(line))
                refuse(vehicle, "board.tap_pins",
                       fmt::format("says no pin for tap {}, which lamps {} follow", name(line), group.name));
        };
        need(plays.job == Job::turn && shows(plays.side, core::Side::left), TappedLine::left);
        need(plays.job == Job::turn && shows(plays.side, core::Side::right), TappedLine::right);
        need(plays.job == Job::stop, TappedLine::brake);
        need(plays.job == Job::tail || (plays.job == Job::stop && plays.dimmed > 0), TappedLine::tail);
    }
}

/// All dark for a minute is parked, unless a marker burns on then and no supply tap tells that the key is
/// off.
int park_after_s(const BoardPlan& plan) {
    const bool hears_key = std::any_of(plan.taps.begin(), plan.taps.end(),
                                       [](const PlannedTap& tap) { return tap.line == TappedLine::supply; });
    const bool has_marker =
        std::any_of(plan.lamps.lamps.begin(), plan.lamps.lamps.end(),
                    [](const LampGroup& group) { return group.plays.job == Job::marker; });
    return has_marker && !hears_key ? 0 : 60;
}

} // namespace

void refuse(const Vehicle& vehicle, const std::string& field, const std::string& why) {
    const std::optional<Vehicle::Place> place = vehicle.given(field);
    const std::string what = fmt::format("{} {}", field_text(field), why);
    throw InputError(place ? at_line(place->file, place->line, what) : at_line(vehicle.path(), 0, what));
}

BoardPlan board_plan_of(const Vehicle& vehicle) {
    BoardPlan plan;
    plan.settings = decoder_settings(vehicle, core::Settings{});
    plan.lamps = lamp_plan_of(vehicle);
    const std::optional<FrontEnd> front_end = front_end_of(vehicle);
    const std::optional<Board> board = supply_sections_of(vehicle).board;
    refuse_what_is_unsafe(vehicle, plan);
    if (plan.lamps.lamps.empty())
        refuse(vehicle, "lamps", "are missing; a board without lamps lights nothing");
    if (!front_end) refuse(vehicle, "front_end", "is missing; it says how the taps are read");
    if (!board || board->tap_pins.empty())
        refuse(vehicle, "board.tap_pins", "is missing; it says where the taps are read");
    if (front_end->second_brake &&
        (board->tap_pins.size() < tap_order.size() || board->tap_pins.back().empty()))
        refuse(vehicle, "board.tap_pins", "names no sixth pin, for the second brake of [front_end]");
    plan.taps = TapPlan(vehicle, *front_end, *board).all();
    const int sample_us = std::max<int>(5, static_cast<int>(plan.taps.size())) * firmware_tick_us;
    if (front_end->sample_us && *front_end->sample_us < sample_us)
        refuse(vehicle, "front_end.sample",
               fmt::format("is {}, but the firmware looks at each pin every {}; say so, and look at "
                           "winkhold electrics again",
                           format_duration(*front_end->sample_us), format_duration(sample_us)));
    if (board->pwm_hz && std::abs(*board->pwm_hz / firmware_pwm_hz - 1) > 0.01)
        refuse(vehicle, "board.pwm_hz",
               fmt::format(
                   "is {:g}, but the firmware's timers make 16 MHz / 8 / 256 = 7812; say so, and look at "
                   "winkhold electrics again",
                   *board->pwm_hz));
    refuse_deaf_lamps(vehicle, plan);
    plan_outputs(vehicle, *board, plan);
    plan.park_after_s = park_after_s(plan);
    return plan;
}

} // namespace winkhold::bike
