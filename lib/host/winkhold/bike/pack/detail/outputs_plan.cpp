// Which output lights which lamps.
#include "winkhold/bike/electrics/outputs.hpp"
#include "winkhold/bike/pack/detail/board_plan.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr int most_outputs = 248; // 31 registers of 8: the firmware counts outputs in a byte
constexpr int most_lamp = 255;

class OutputsPlan {
public:
    OutputsPlan(const Vehicle& vehicle, const Board& board, BoardPlan& plan)
        : vehicle_(vehicle), board_(board), plan_(plan), wiring_(wiring_of(vehicle)),
          nets_(wiring_, plan.lamps.lamps), ends_(lamp_ends_of(wiring_, plan.lamps.lamps, nets_)) {}

    void make() {
        refuse_breaches();
        for (group_ = 0; group_ < plan_.lamps.lamps.size(); ++group_) {
            const LampGroup& group = lamps();
            if (!group.driver) no("driver", "is missing; it says what switches the lamps");
            if (group.pins.empty()) no("pins", "is missing; it says where the lamps hang");
            if (group.driver == LampDriver::shift_register)
                place_on_registers(group);
            else
                place_on_pins(group);
        }
        if (plan_.registers.outputs > 0) plan_registers();
        refuse_too_much();
    }

private:
    const LampGroup& lamps() const { return plan_.lamps.lamps[group_]; }

    [[noreturn]] void no(const char* key, const std::string& why) const {
        const std::string field = fmt::format("lamps.{}.{}", group_, key);
        if (vehicle_.given(field)) refuse(vehicle_, field, fmt::format("of {} {}", lamps().name, why));
        throw InputError(fmt::format("{}: {} {}", place_of(lamps()), key, why));
    }

    /// bike.hpp's tables lie in the chip's 2 KiB of RAM, and no linker says when they meet the stack: the
    /// firmware takes some 520 of them without tables, and 300 of stack (measured in simavr, tests/firmware).
    void refuse_too_much() const {
        constexpr std::size_t group_bytes = 19, run_bytes = 4, pin_bytes = 3, tap_bytes = 7,
                              most_bytes = 1'000;
        const std::size_t bytes =
            plan_.lamps.lamps.size() * group_bytes + plan_.runs.size() * run_bytes +
            plan_.pins.size() * pin_bytes + plan_.taps.size() * tap_bytes +
            static_cast<std::size_t>(plan_.registers.outputs) / 2; // 4 bytes for 8 outputs
        if (bytes > most_bytes)
            refuse(vehicle_, "lamps",
                   fmt::format(
                       "take some {} bytes of the chip's RAM for their tables, which has {} for them; fewer "
                       "groups, or lamps on outputs side by side",
                       bytes, most_bytes));
    }

    void refuse_breaches() {
        for (const OutputBreach& breach : output_breaches(board_, plan_.lamps.lamps)) {
            const std::string why = fmt::format("{}; {}", breach.what, breach.advice);
            if (!breach.group) throw InputError(at_line(vehicle_.path(), 0, "[board] " + why));
            const LampGroup& group = plan_.lamps.lamps[*breach.group];
            throw InputError(fmt::format("{}: lamps {} {}", place_of(group), group.name, why));
        }
    }

    int strings() const {
        const int in_series = lamps().in_series.value_or(1);
        return (lamps().plays.count + in_series - 1) / in_series;
    }

    /// The first lamp on each of so many outputs.
    std::vector<int> first_lamps(int outputs) {
        const core::LampGroup& plays = lamps().plays;
        const bool in_turn = plays.pattern.fills == core::Pattern::Fills::lamps && !plays.all_at_once();
        std::vector<int> first;
        if (!in_turn) { // all of them show the same
            for (int i = 0; i < outputs; ++i)
                first.push_back(std::min(i, plays.count - 1));
            return first;
        }
        const int in_series = lamps().in_series.value_or(1);
        const int each = outputs == plays.blocks() ? plays.pattern.block
                         : outputs == strings()    ? in_series
                                                   : 0;
        if (each == 0 || plays.pattern.block % in_series != 0)
            no("pins",
               fmt::format("come to {} output{}, but {} lamps that light {} at a time, {} in series, need {}",
                           outputs, outputs == 1 ? "" : "s", plays.count, plays.pattern.block, in_series,
                           plays.pattern.block % in_series != 0
                               ? std::string("strings that light as a whole")
                               : fmt::format("{} or {}", plays.blocks(), strings())));
        for (int i = 0; i < outputs; ++i)
            first.push_back(i * each);
        if (first.back() > most_lamp) no("count", "is more than the firmware counts, 256 lamps");
        return first;
    }

    void place_on_pins(const LampGroup& group) {
        const std::vector<int> first = first_lamps(static_cast<int>(group.pins.size()));
        for (std::size_t i = 0; i < group.pins.size(); ++i) {
            const ChipPin* const pin = chip_pin(group.pins[i]);
            if (pin == nullptr)
                no("pins", fmt::format("name {}, but the chip has no such pin", group.pins[i]));
            if (!pin->is_digital()) no("pins", fmt::format("name {}, which can only be read", text(*pin)));
            if (!pin->reserved.empty())
                no("pins", fmt::format("name {}, which the chip needs ({})", text(*pin), pin->reserved));
            for (const PlannedPin& other : plan_.pins)
                if (other.pin == pin) no("pins", taken(text(*pin), other.group));
            for (const PlannedTap& tap : plan_.taps)
                if (tap.pin == pin)
                    no("pins", fmt::format("name {}, where tap {} is read", text(*pin), name(tap.line)));
            plan_.pins.push_back({static_cast<int>(group_), first[i], pin});
        }
    }

    std::string taken(const std::string& output, int by) const {
        const std::string& other = plan_.lamps.lamps[static_cast<std::size_t>(by)].name;
        return by == static_cast<int>(group_)
                   ? fmt::format("name {} twice", output)
                   : fmt::format("come to {}, which lights lamps {}, too", output, other);
    }

    /// "SR3" is the third register from the board on.
    int place_in_chain(const std::string& name) const {
        const std::string plain = plain_name(name);
        int place = 0;
        const auto [end, error] = std::from_chars(plain.data() + std::min<std::size_t>(2, plain.size()),
                                                  plain.data() + plain.size(), place);
        if (!plain.starts_with("sr") || error != std::errc{} || end != plain.data() + plain.size() ||
            place < 1)
            no("pins",
               fmt::format("name register {}; number registers by their place in the chain, SR1 next to "
                           "the board's data pin",
                           name));
        if (place * board_.register_outputs > most_outputs)
            no("pins",
               fmt::format("name register {}, but with {} outputs each the firmware counts no more than {}",
                           name, board_.register_outputs, most_outputs));
        return place - 1;
    }

    /// Those that [[wires]] lead to, or all from the first on, as many as there are strings.
    std::vector<int> register_outputs(const LampGroup& group) {
        std::vector<int> chain;
        for (const std::string& name : group.pins)
            chain.push_back(place_in_chain(name) * board_.register_outputs);
        std::vector<std::pair<std::ptrdiff_t, int>> said; // place in pins, output
        bool all_said = true;
        for (const Terminal* output : ends_[group_].outputs()) {
            if (output->role != Terminal::Role::output || output->driver != LampDriver::shift_register)
                continue;
            const auto at = std::find_if(group.pins.begin(), group.pins.end(), [&](const std::string& pin) {
                return same_name(pin, output->name);
            });
            if (at == group.pins.end() || output->output < 0 || output->output > board_.register_outputs)
                no("pins", fmt::format("and [[wires]] don't agree on {}; see winkhold wiring", output->text));
            all_said = all_said && output->output > 0;
            said.emplace_back(at - group.pins.begin(), output->output - 1);
        }
        std::vector<int> outputs;
        if (!said.empty() && all_said) {
            std::sort(said.begin(), said.end()); // lamps are numbered as outputs rise
            for (const auto& [pin, output] : said)
                outputs.push_back(chain[static_cast<std::size_t>(pin)] + output);
            return outputs;
        }
        for (const int first : chain)
            for (int i = 0; i < board_.register_outputs && static_cast<int>(outputs.size()) < strings(); ++i)
                outputs.push_back(first + i);
        return outputs;
    }

    /// The firmware lights and dims them in one step, so that the stop lamps wait for nothing else.
    void refuse_stop_lamps_apart(const LampGroup& group) const {
        for (const PlannedRun& run : plan_.runs) {
            const LampGroup& other = plan_.lamps.lamps[static_cast<std::size_t>(run.group)];
            if (group.plays.job != core::Job::stop || other.plays.job != core::Job::stop) continue;
            if ((group.plays.dimmed != 0) != (other.plays.dimmed != 0))
                no("driver",
                   fmt::format("is the registers', as that of {}, but only one of them lights with the tail; "
                               "the firmware lights all stop lamps on registers alike",
                               other.name));
        }
    }

    void place_on_registers(const LampGroup& group) {
        refuse_stop_lamps_apart(group);
        const std::vector<int> outputs = register_outputs(group);
        const std::vector<int> first = first_lamps(static_cast<int>(outputs.size()));
        for (std::size_t i = 0; i < outputs.size(); ++i) {
            const std::string said = fmt::format("SR{}.{}", outputs[i] / board_.register_outputs + 1,
                                                 outputs[i] % board_.register_outputs + 1);
            for (const auto& [output, by] : used_)
                if (output == outputs[i])
                    no("pins", taken(said, by) + "; [[wires]] can say which output is whose");
            used_.emplace_back(outputs[i], static_cast<int>(group_));
            PlannedRun* const last = plan_.runs.empty() ? nullptr : &plan_.runs.back();
            const bool goes_on = last != nullptr && last->group == static_cast<int>(group_) &&
                                 last->first_output + last->count == outputs[i] &&
                                 last->first_lamp + last->count == first[i];
            if (goes_on)
                ++last->count;
            else
                plan_.runs.push_back({static_cast<int>(group_), first[i], outputs[i], 1});
            const int registers = outputs[i] / board_.register_outputs + 1;
            plan_.registers.outputs = std::max(plan_.registers.outputs, registers * board_.register_outputs);
        }
        plan_.registers.level = std::max(group.plays.full, group.plays.dimmed);
    }

    const ChipPin* line(const char* key, const std::string& name, const char* is_for) {
        const std::string field = fmt::format("board.{}", key);
        if (name.empty())
            refuse(vehicle_, field, fmt::format("is missing; it is the pin of the registers' {}", is_for));
        const ChipPin* const pin = chip_pin(name);
        if (pin == nullptr) refuse(vehicle_, field, fmt::format("is {}, but the chip has no such pin", name));
        for (const PlannedTap& tap : plan_.taps)
            if (tap.pin == pin)
                refuse(vehicle_, field,
                       fmt::format("is {}, where tap {} is read", text(*pin), measure::name(tap.line)));
        for (const PlannedPin& lamp : plan_.pins)
            if (lamp.pin == pin)
                refuse(vehicle_, field,
                       fmt::format("is {}, which lights lamps {}", text(*pin),
                                   plan_.lamps.lamps[static_cast<std::size_t>(lamp.group)].name));
        return pin;
    }

    void plan_registers() {
        PlannedRegisters& registers = plan_.registers;
        line("register_data", board_.register_data, "data");
        line("register_clock", board_.register_clock, "clock");
        registers.latch = line("register_latch", board_.register_latch, "latch");
        registers.enable = line("register_enable", board_.register_enable, "enable");
        if (registers.latch == registers.enable)
            refuse(vehicle_, "board.register_latch", "is the pin of register_enable, too");
        for (const PlannedTap& tap : plan_.taps)
            if (tap.pin->port == "PB2")
                refuse(vehicle_, "board.tap_pins",
                       fmt::format("reads tap {} at {}; low there ends the SPI's sending to the registers",
                                   measure::name(tap.line), text(*tap.pin)));
        if (!board_.shift_hz) refuse(vehicle_, "board.shift_hz", "is missing; so fast the registers follow");
        constexpr double slowest_hz = 125'000; // 16 MHz / 128
        constexpr double sample_ms = 1;
        if (*board_.shift_hz < slowest_hz)
            refuse(vehicle_, "board.shift_hz",
                   fmt::format("is {:g}, but the chip's SPI sends no slower than {:g}", *board_.shift_hz,
                               slowest_hz));
        double hz = 8e6;
        while (hz > *board_.shift_hz)
            hz /= 2;
        const double takes_ms = registers.outputs / hz * 1e3;
        if (takes_ms > sample_ms)
            refuse(vehicle_, "board.shift_hz",
                   fmt::format(
                       "is {:g}: {} outputs take {:.2f} ms, and they must be shown within {:g} ms; fewer "
                       "registers, or faster ones",
                       *board_.shift_hz, registers.outputs, takes_ms, sample_ms));
        registers.shift_hz = static_cast<long>(std::min(*board_.shift_hz, 8e6));
    }

    const Vehicle& vehicle_;
    const Board& board_;
    BoardPlan& plan_;
    const Wiring wiring_;
    const Nets nets_;
    const LampEnds ends_;
    std::size_t group_{0};
    std::vector<std::pair<int, int>> used_; ///< outputs of the chain, and the group on each
};

} // namespace

void plan_outputs(const Vehicle& vehicle, const Board& board, BoardPlan& plan) {
    OutputsPlan(vehicle, board, plan).make();
}

} // namespace winkhold::bike
