// Which outputs light which lamps: the right driver, outputs that are there, as many as the lamps need.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using Role = Terminal::Role;

constexpr std::string_view driver_names[] = {"pin", "transistor", "shift-register"};

bool names_pin(const LampGroup& group, std::string_view pin) {
    return std::any_of(group.pins.begin(), group.pins.end(),
                       [&](const std::string& one) { return same_name(one, pin); });
}

class LampOutputs {
public:
    LampOutputs(const WiringCase& on, WiringSheet& sheet) : on_(on), sheet_(sheet) {}

    void judge(const GroupWires& one) {
        group_ = one.group;
        told_ = !one.bringing(&Nets::Net::plus).empty() &&
                !one.bringing(&Nets::Net::ground).empty(); // always lit
        for (const LampWire& wire : one.wires) {
            const Nets::Net& net = *wire.net;
            if (net.tap || net.outputs.size() > 1 || (net.left && net.right && !net.outputs.empty()))
                told_ = true; // as lamps on a tap, outputs joined, or both sides on one
            else if (!net.outputs.empty())
                judge_output(*net.outputs[0], sheet_.wiring.wires[wire.wire]);
            else
                judge_unnamed(wire);
        }
        const std::vector<const Terminal*> outputs = one.outputs();
        if (outputs.empty() || told_) return;
        if (group_->pins.empty() || !group_->driver)
            tell(fmt::format("lamps {}: whether {} lights them; enter {} in their [[lamps]]", group_->name,
                             outputs[0]->text,
                             group_->driver         ? "pins"
                             : group_->pins.empty() ? "driver and pins"
                                                    : "driver"));
        for (const std::string& pin : group_->pins)
            if (std::none_of(outputs.begin(), outputs.end(),
                             [&](const Terminal* output) { return same_name(output->name, pin); })) {
                const bool by_pin = outputs[0]->role == Role::pin;
                find(Kind::lamp_pin_not_reached, place_of(*group_),
                     fmt::format("no wire takes {} {} to lamps {}; add it to [[wires]]",
                                 by_pin ? "pin" : "an output of", pin, group_->name));
            }
        if (one.open().empty() && !told_) judge_count(one, outputs);
    }

private:
    void judge_output(const Terminal& output, const Wire& wire) {
        if (group_->driver && *group_->driver != output.driver)
            find(
                Kind::driver_differs, wire.where,
                fmt::format("{} takes lamps {} to {}, a {}, but their driver is \"{}\"; one of them is wrong",
                            wire_name(wire), group_->name, output.text,
                            driver_names[static_cast<std::size_t>(output.driver)],
                            driver_names[static_cast<std::size_t>(*group_->driver)]));
        if (!group_->pins.empty() && !names_pin(*group_, output.name)) {
            const bool is_anothers =
                std::any_of(on_.lamps.begin(), on_.lamps.end(),
                            [&](const LampGroup& other) { return names_pin(other, output.name); });
            const bool is_there = is_anothers || output.role == Role::pin;
            return find(is_there ? Kind::pin_two_jobs : Kind::no_such_output, wire.where,
                        fmt::format("{} takes {} to lamps {}, whose pins are {} ({}); {}", wire_name(wire),
                                    output.text, group_->name, joined(group_->pins, ", "), place_of(*group_),
                                    is_there ? "one of them is wrong" : "no [[lamps]] has it in its pins"));
        }
        if (output.driver != LampDriver::shift_register) return;
        const std::optional<int> outputs = on_.board.register_outputs;
        if (output.output < 0 || (output.output > 0 && output.output > outputs.value_or(8)))
            find(Kind::no_such_output, wire.where,
                 fmt::format("{} goes to {}, but a register has {} outputs, counted from 1 ([board] "
                             "register_outputs{})",
                             wire_name(wire), output.text, outputs.value_or(8), outputs ? "" : ", not said"));
        else if (output.output == 0)
            tell(fmt::format("lamps {}: {} goes to {}, which doesn't say which output", group_->name,
                             wire_name(wire), output.text));
        else if (!outputs)
            tell("outputs of registers: how many one has is not said ([board] register_outputs)");
    }

    /// "board Q9", where it is known which outputs these lamps could have.
    void judge_unnamed(const LampWire& wire) {
        const Terminal* const other = on_.nets.find(*wire.net, Role::board_other);
        if (other == nullptr || !wire.net->is_open() || !group_->driver || group_->pins.empty()) return;
        find(Kind::no_such_output, sheet_.wiring.wires[wire.wire].where,
             fmt::format(
                 "{} takes lamps {} to {}, which is no rail and no output of their {} {}; write it like "
                 "\"board lamps plus\", \"board SR1.3\" or \"board D9 transistor\"",
                 wire_name(sheet_.wiring.wires[wire.wire]), group_->name, other->text,
                 driver_names[static_cast<std::size_t>(*group_->driver)], joined(group_->pins, ", ")));
    }

    /// Lamps that light one after the other need an output for each block; strings share outputs evenly.
    void judge_count(const GroupWires& one, const std::vector<const Terminal*>& outputs) {
        const int count = static_cast<int>(outputs.size());
        const core::LampGroup& plays = group_->plays;
        const int strings = one.strings();
        const bool in_blocks = plays.pattern.fills == core::Pattern::Fills::lamps && !plays.all_at_once();
        const int least = in_blocks ? plays.blocks() : 1;
        const bool is_even = in_blocks ? true : strings % count == 0;
        if (count >= least && count <= strings && is_even) return;
        const std::string needs =
            least > strings ? fmt::format("one each, so none in series (in_series = {})", *group_->in_series)
            : in_blocks && least == strings ? fmt::format("{}, one each", least)
            : in_blocks                     ? fmt::format("{} to {}", least, strings)
                        : fmt::format("as many strings on each, {} outputs at the most", strings);
        find(Kind::lamps_do_not_count, place_of(*group_),
             fmt::format("lamps {}: {} lamps in {} string{}, but wires from {} output{}; they need {}",
                         group_->name, plays.count, strings, strings == 1 ? "" : "s", count,
                         count == 1 ? "" : "s", needs));
    }

    void find(Kind kind, const std::string& where, const std::string& text) {
        told_ = told_ || kind != Kind::lamp_pin_not_reached;
        sheet_.findings.push_back({kind, where, text});
    }

    void tell(const std::string& text) {
        if (std::find(sheet_.not_judged.begin(), sheet_.not_judged.end(), text) == sheet_.not_judged.end())
            sheet_.not_judged.push_back(text);
    }

    const WiringCase& on_;
    WiringSheet& sheet_;
    const LampGroup* group_{nullptr};
    bool told_{false}; ///< something is wrong with this group's outputs, and counts follow from it
};

} // namespace

void judge_lamp_outputs(const WiringCase& on, WiringSheet& sheet) {
    LampOutputs outputs(on, sheet);
    for (const GroupWires& one : on.ends)
        outputs.judge(one);
}

} // namespace winkhold::bike
