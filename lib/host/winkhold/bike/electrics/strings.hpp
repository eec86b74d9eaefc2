/// The strings of LEDs that a lamp group is made of: resistors, currents, heat.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/bike/electrics/check.hpp"
#include "winkhold/bike/electrics/wire.hpp"
#include "winkhold/bike/lamps/lamps.hpp"

namespace winkhold::bike {

/// One kind of string in a group. `in_series` that doesn't divide the group's lamps leaves a shorter one.
struct LampString {
    int leds{1};
    int count{1}; ///< strings like this in the group
    /// E24, the next one up. None for a constant-current feed.
    std::optional<double> resistor_ohm;
    std::optional<double> resistor_rating_w; ///< least common rating of twice the heat at most_v
    double nominal_ma{0};                    ///< at the supply's nominal volts, full brightness
    Range ma;           ///< over the supply's volts, LED's voltage and resistor's tolerance
    double falls_v{0};  ///< lost ahead of the resistor, LEDs at their nominal volts
    Range falls_over_v; ///< and over LEDs of any volts
    double heat_w{0};   ///< in the resistor or constant-current part, at the most volts
};

/// What one pin of the board switches, all groups that name it taken together.
struct PinLoad {
    std::string pin;
    LampDriver driver{LampDriver::pin}; ///< what carries the current: the pin itself, or a part behind it
    int strings{0};
    double nominal_ma{0};
    double most_ma{0};
};

/// What a lamp group draws when all its lamps are at full brightness.
struct GroupLoad {
    std::string name;  ///< of the [[lamps]] table
    std::string where; ///< "file:line: [lamps] name"
    core::Job job{core::Job::turn};
    core::Indication side{core::Indication::left};
    /// Empty if something it takes is not known; `checks` say what.
    std::vector<LampString> strings;
    double nominal_ma{0};
    double most_ma{0};
    std::optional<WireRun> wire; ///< to the group, at most_ma; none if gauge, length or current is not known

    /// The file says enough to know its strings.
    bool known() const { return !strings.empty(); }
    /// Strings of the whole group; 0 if they are not known.
    int string_count() const;
};

/// What feeds strings.
struct StringSupply {
    double least_v{9};
    double nominal_v{14.4}; ///< engine running; resistors are chosen here
    double most_v{16};
    double drop_v{0};                 ///< lost in reverse polarity part and switch
    std::optional<double> headroom_v; ///< that a constant-current part needs
    std::optional<double> part_w;     ///< heat that it may make
};

/// Forward voltage of one LED at 20 mA, typical parts (common practice, no source). Unit: V.
Range led_volts(LampColour colour);

/// The strings of `group`. Resistor R = (nominal - n Vf - drop) / I, next E24 up (IEC 60063), 5 %; heat at
/// the most volts.
GroupLoad strings_of(const LampGroup& group, const StringSupply& supply, Checks& checks);

/// At so many volts of the supply; with the parts that let most through, or nominal ones. Unit: mA.
double string_ma(const LampString& string, double supply_v, bool most);

/// The fields that the strings of lamps[i] rest on; `from_regulator` says what feeds them.
FieldNames fields_of_strings(const Lamps& lamps, std::size_t i, bool from_regulator);

/// Of all groups; strings are dealt to a group's pins in turn. In the order in which pins are first named.
std::vector<PinLoad> pins_of(const Lamps& lamps, const std::vector<GroupLoad>& loads);

} // namespace winkhold::bike
