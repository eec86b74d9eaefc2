#include "winkhold/bike/electrics/outputs.hpp"

#include "winkhold/bike/pins/chip_pins.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

bool in_between(std::uint8_t brightness) {
    return brightness != 0 && brightness != 255;
}

bool fades(const core::LampGroup& plays) {
    return plays.pattern.fills == core::Pattern::Fills::brightness && !plays.all_at_once();
}

class Breaches {
public:
    Breaches(const Board& board, const Lamps& lamps) : board_(board), lamps_(lamps) {}

    std::vector<OutputBreach> all() {
        for (std::size_t i = 0; i < lamps_.size(); ++i) {
            group_ = i;
            const LampGroup& group = lamps_[i];
            if (group.driver == LampDriver::shift_register)
                judge_register(group);
            else if (group.driver)
                judge_pins(group);
        }
        group_.reset();
        if (level_) judge_lines();
        return std::move(breaches_);
    }

private:
    void find(std::string what, std::string advice) {
        breaches_.push_back({group_, std::move(what), std::move(advice)});
    }

    void judge_register(const LampGroup& group) {
        const core::LampGroup& plays = group.plays;
        if (fades(plays))
            find("fades, but a register's output is on or off", "pins with PWM, or a pattern of lamps");
        for (const std::uint8_t level : {plays.full, plays.dimmed}) {
            if (level == 0) continue;
            if (!level_) level_ = level;
            if (*level_ == level) continue;
            find(
                fmt::format("is lit at {} where registers light at {}, and all registers are dimmed together",
                            level, *level_),
                "one brightness for all of them, or pins with PWM");
            break;
        }
    }

    void judge_pins(const LampGroup& group) {
        if (!needs_pwm(group.plays)) return;
        for (const std::string& name : group.pins) {
            const ChipPin* const pin = chip_pin(name);
            if (pin == nullptr || !pin->pwm.empty()) continue;
            find(fmt::format("{}, but pin {} is on or off: no timer drives it",
                             fades(group.plays) ? "fades" : "is lit at more brightnesses than dark and 255",
                             text(*pin)),
                 fmt::format("one of the pins {}", pins_with_pwm()));
        }
    }

    /// Data and clock come from the SPI; the enable dims.
    void judge_lines() {
        const auto must_be = [&](const char* key, const std::string& name, const ChipPin& pin) {
            const ChipPin* const given = chip_pin(name);
            if (!name.empty() && (given == nullptr || given->port != pin.port))
                find(fmt::format("{} is {}, but the chip's {} is pin {}", key, name, pin.reserved, text(pin)),
                     fmt::format("{} = \"{}\"", key, pin.printed));
        };
        must_be("register_data", board_.register_data, reserved_pin("SPI data"));
        must_be("register_clock", board_.register_clock, reserved_pin("SPI clock"));
        for (const auto& [key, name] : {std::pair("register_latch", &board_.register_latch),
                                        std::pair("register_enable", &board_.register_enable)}) {
            const ChipPin* const pin = chip_pin(*name);
            if (pin != nullptr && (!pin->is_digital() || !pin->reserved.empty()))
                find(fmt::format("{} is pin {}, which {}", key, text(*pin),
                                 pin->is_digital() ? fmt::format("is the {}'s", pin->reserved)
                                                   : "can only be read"),
                     "a free pin that can be an output");
        }
        const ChipPin* const enable = chip_pin(board_.register_enable);
        if (in_between(*level_) && enable != nullptr && enable->pwm.empty())
            find(fmt::format(
                     "registers are dimmed to {}, but register_enable is pin {}, which is on or off: no "
                     "timer drives it",
                     *level_, text(*enable)),
                 fmt::format("one of the pins {}", pins_with_pwm()));
    }

    static std::string pins_with_pwm() {
        std::string names;
        for (const ChipPin& pin : chip_pins())
            if (!pin.pwm.empty() && pin.reserved.empty())
                names += fmt::format("{}{}", names.empty() ? "" : ", ", pin.printed);
        return names;
    }

    const Board& board_;
    const Lamps& lamps_;
    std::optional<std::size_t> group_;
    std::optional<std::uint8_t> level_; ///< of lit register outputs
    std::vector<OutputBreach> breaches_;
};

} // namespace

bool needs_pwm(const core::LampGroup& plays) {
    return in_between(plays.full) || in_between(plays.dimmed) || fades(plays);
}

std::vector<OutputBreach> output_breaches(const Board& board, const Lamps& lamps) {
    return Breaches(board, lamps).all();
}

std::vector<std::string> unknown_pins(const LampGroup& group) {
    std::vector<std::string> unknown;
    if (group.driver != LampDriver::shift_register)
        std::copy_if(group.pins.begin(), group.pins.end(), std::back_inserter(unknown),
                     [](const std::string& pin) { return chip_pin(pin) == nullptr; });
    return unknown;
}

} // namespace winkhold::bike
