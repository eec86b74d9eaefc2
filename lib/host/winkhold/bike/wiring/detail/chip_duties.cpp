// Pins that the chip needs itself, or the registers: no tap and no lamp may be there.
#include "winkhold/bike/pins/chip_pins.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using End = WireEnd::Kind;

class ChipDuties {
public:
    ChipDuties(const WiringCase& on, WiringSheet& sheet) : on_(on), sheet_(sheet) {}

    void judge(const std::string& where, const std::string& who, std::string_view pin_name) {
        const ChipPin* const pin = chip_pin(pin_name);
        if (pin == nullptr) return;
        for (const auto& [name, duty] : on_.board.register_pins)
            if (chip_pin(name) == pin)
                return find(
                    Kind::pin_two_jobs, where,
                    fmt::format("{} at pin {}, the registers' {} ([board] register_{}); move one of them",
                                who, text(*pin), duty, duty));
        if (!pin->reserved.empty())
            find(Kind::pin_reserved, where,
                 fmt::format("{} at pin {}, which the chip needs ({}); take another pin", who, text(*pin),
                             pin->reserved));
    }

private:
    void find(Kind kind, const std::string& where, std::string text) {
        sheet_.findings.push_back({kind, where, std::move(text)});
    }

    const WiringCase& on_;
    WiringSheet& sheet_;
};

} // namespace

void judge_chip_duties(const WiringCase& on, WiringSheet& sheet) {
    ChipDuties duties(on, sheet);
    for (const LampGroup& group : on.lamps)
        if (group.driver != LampDriver::shift_register)
            for (const std::string& pin : group.pins)
                duties.judge(place_of(group), fmt::format("lamps {} are", group.name), pin);
    for (const Wire& wire : sheet.wiring.wires) {
        const WireEnd* const pin = wire.end(End::pin);
        if (pin != nullptr && wire.ends_at(End::tap))
            duties.judge(wire.where, fmt::format("tap {} is", wire.end(End::tap)->name), pin->name);
    }
}

} // namespace winkhold::bike
