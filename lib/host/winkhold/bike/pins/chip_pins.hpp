/// The one table of the board's pins: an ATmega328P, as the chip numbers them and as small boards print them.
/// What looks up a pin (wiring, electrics, pack) looks here.
#pragma once

#include "winkhold/base/wings.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace winkhold::bike {

/// One pin and what it can do. Source: ATmega328P data sheet, pin configurations and alternate port functions
/// (from memory); the printed names are common practice, no source.
struct ChipPin {
    std::string_view
        port; ///< the chip's name, "PB1": port and bit; "ADC6" has no port and is read by the ADC only
    std::string_view printed; ///< on the board, "D9" or "A0"; empty: not brought out
    int dip28;                ///< number in the 28-pin package; 0: not there
    int tqfp32;               ///< number in the 32-pin package
    std::optional<int> adc{}; ///< channel of the converter
    std::string_view pwm{};   ///< output of a timer, "OC1A", which can dim; empty: on or off
    /// What else the pin is needed for: "UART", "reset", "crystal", "SPI data". No tap and no lamp may be
    /// there.
    std::string_view reserved{};

    /// An input with a Schmitt trigger (0.3 and 0.6 of the supply guaranteed, data sheet, read), and an
    /// output.
    bool is_digital() const { return port.starts_with('P'); }
    /// "PB".
    std::string_view port_letter() const { return is_digital() ? port.substr(0, 2) : std::string_view{}; }
};

/// All of them, in the order of ports and bits.
std::span<const ChipPin> chip_pins();

/// The pin of this name, the chip's or the printed one, in capitals or not; null: the chip has none.
const ChipPin* chip_pin(std::string_view name);
/// "PB" of a pin of this name; empty: the chip has none, or it has no port.
std::string port_of(std::string_view name);
/// The pin with this duty: "SPI data", "SPI clock".
const ChipPin& reserved_pin(std::string_view duty);
/// "D9 (PB1)", for people.
std::string text(const ChipPin& pin);

} // namespace winkhold::bike
