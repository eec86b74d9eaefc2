/// [front_end]: the way from each 12 V line to its pin, all channels alike but for the level that means lit.
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"

#include "winkhold/base/range.hpp"
#include "winkhold/base/time.hpp"
#include "winkhold/measure/front_end/input_network.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace winkhold::measure {

/// What reads the pin: a converter with thresholds in software, a Schmitt trigger, or plain logic.
enum class InputKind { adc, schmitt, logic };
/// What keeps the pin from over- and undervoltage.
enum class ClampKind { none, pin_diodes, schottky, zener };

/// The lines that are tapped. The second brake is the pedal's switch, if it has a tap of its own: the
/// firmware lights the stop lamps with either.
enum class TappedLine { left, right, brake, second_brake, tail, supply };
inline constexpr std::array tapped_lines{TappedLine::left,         TappedLine::right, TappedLine::brake,
                                         TappedLine::second_brake, TappedLine::tail,  TappedLine::supply};
/// "left", "second brake": as messages spell it.
std::string_view name(TappedLine line);

/// At the pin. Unit: V.
struct Thresholds {
    Range rise_v;       ///< reads high above: the least and the most of any part
    Range fall_v;       ///< reads low below
    std::string source; ///< with its mark
};

/// What is optional may be left out of the file: then what depends on it is not judged.
struct FrontEnd {
    std::string where; ///< "file:line: [front_end]"
    std::optional<double> top_kohm;
    std::optional<double> bottom_kohm;
    std::optional<double> capacitor_nf;
    double resistor_percent{5};
    double capacitor_percent{20};

    std::optional<ClampKind> clamp;
    std::optional<Range> zener_v;   ///< its voltage at the current that it takes
    std::optional<double> clamp_ma; ///< the most it may carry

    std::optional<double> bleeder_ohm;  ///< from line to ground
    std::optional<double> pull_up_kohm; ///< the flasher's load sense, supply to line; 0: it has none
    /// The least resistance from supply to line when the harness is wet; it must do no harm.
    std::optional<double> wet_kohm;
    std::optional<double> wet_pin_kohm; ///< the same, to the tap's wire behind the top resistor

    std::optional<double> pin_v; ///< supply of the pin
    double pin_v_percent{5};
    std::optional<InputKind> input;
    std::string part;            ///< input of this part: see input_parts()
    std::optional<Range> rise_v; ///< instead of a part
    std::optional<Range> fall_v;
    std::optional<bool> inverts; ///< schmitt: its output is low while the line is high
    double on_above_v{5.0};      ///< adc: thresholds in volts of the line
    double off_below_v{3.5};
    double adc_bits{10};
    double adc_error_lsb{2};         ///< 2: typical of the ATmega328P (data sheet, from memory)
    std::optional<TimeUs> sample_us; ///< the firmware looks at each pin this often

    bool second_brake{false};                           ///< lever and pedal have a tap each
    std::array<bool, tapped_lines.size()> active_low{}; ///< lit means low: the switch is on the ground side

    /// Parts at their nominal values; none if one of them is not known.
    std::optional<InputNetwork> nominal() const;
    /// Supply of the pin, with its tolerance.
    std::optional<Range> pin_volts() const;
    /// None if not known.
    std::optional<Thresholds> thresholds() const;
    /// The voltage to which the clamp lets the pin rise; infinite without one; none if not known.
    std::optional<Range> clamp_volts() const;
    /// What holds a line that its switch has let go, as its parts happen to be.
    struct LetGo {
        double bleeder_siemens{0};
        double pull_up_siemens{0};

        /// Both in parallel; infinite without.
        double ohm() const;
        /// Of a line that nothing else loads: pull-up against bleeder (the divider is not counted).
        double volts(double supply_v) const;
    };
    /// Nominal parts. Only the turn lines have the flasher's load sense.
    LetGo let_go(TappedLine line) const;

    /// The pin reads low while the line is high, as the file or the part's data sheet has it; none if not
    /// known.
    std::optional<bool> pin_inverts() const;

    /// Its lamp is lit while the line is low.
    bool is_active_low(TappedLine line) const { return active_low[static_cast<std::size_t>(line)]; }
    /// Has a tap: all lines but a second brake that the file doesn't name.
    bool has(TappedLine line) const { return line != TappedLine::second_brake || second_brake; }
};

/// An input's thresholds as its data sheet gives them, as a share of its supply.
struct InputPart {
    std::string_view name;
    InputKind kind;
    Range rise_share; ///< of the supply
    Range fall_share;
    bool inverts;
    double sheet_v; ///< supply that the sheet's row is for; 0: any, the sheet itself gives shares
    std::string_view source;
};

/// The part of that name, or none.
const InputPart* input_part(std::string_view name);

/// The vehicle's [front_end]; none if no file says anything in it. Throws InputError (file:line, field).
std::optional<FrontEnd> front_end_of(const Vehicle& vehicle);

} // namespace winkhold::measure
