/// What is wrong with the list of connections.
#pragma once

#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/bike/wiring/wires.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace winkhold::bike {

/// One thing that is wrong, and in which wires.
struct WireFinding {
    /// What is wrong; each kind is explained in the README beside `winkhold wiring`.
    enum class Kind {
        no_label,
        label_double,
        pin_double,
        cavity_double,
        pin_two_jobs,
        no_fuse,
        fuse_too_small,
        fuse_too_large,
        wire_overloaded,
        pin_overloaded,
        port_overloaded,
        package_overloaded,
        lamps_not_reached,
        lamps_not_known,
        lamp_pin_not_reached,
        tap_not_reached,
        short_circuit,
        cut_line,
        kept_unplugged,
    };
    Kind kind;
    std::string where; ///< file:line
    std::string text;  ///< what is wrong and what to do
};

/// Its word in tables and JSON.
constexpr std::string_view name(WireFinding::Kind kind) {
    constexpr std::string_view names[] = {
        "no-label",          "label-double",    "pin-double",           "cavity-double",
        "pin-two-jobs",      "no-fuse",         "fuse-too-small",       "fuse-too-large",
        "wire-overloaded",   "pin-overloaded",  "port-overloaded",      "package-overloaded",
        "lamps-not-reached", "lamps-not-known", "lamp-pin-not-reached", "tap-not-reached",
        "short-circuit",     "cut-line",        "kept-unplugged"};
    return names[static_cast<std::size_t>(kind)];
}

/// Currents that other parts of the vehicle file give. Unit: mA. Absent: not known.
struct Loads {
    std::optional<double> pin_limit_ma;                  ///< what one pin may carry
    std::optional<double> port_limit_ma;                 ///< all pins of a port together
    std::optional<double> package_limit_ma;              ///< all pins of the board's controller together
    std::map<std::string, double, std::less<>> group_ma; ///< a group of lamps, all lit, by its name
    /// A pin that carries its lamps' current itself, by its name in small letters.
    std::map<std::string, double, std::less<>> pin_ma;
    std::optional<double> feed_ma; ///< all that the board takes
};

/// Wires, loads and findings, ready to be printed.
struct WiringSheet {
    Wiring wiring;
    Loads loads;
    std::vector<WireFinding> findings; ///< in the order of WireFinding::Kind, then of the file
    /// Checks that need more than the file says, a sentence each. Never taken as passed.
    std::vector<std::string> not_judged;
};

/// What a wire carries: its own current_ma, else worked out from what it leads to. Unit: mA.
std::optional<double> load_ma(const Wiring& wiring, const Loads& loads, const Wire& wire);

/// "wire TL", or by its ends if it has no label.
std::string wire_name(const Wire& wire);

/// Doubles, unlabelled wires, fuses (load / 0.75 <= fuse <= what the wire carries), overloaded wires and
/// pins, lamps and taps that no wire reaches, factory parts cut off. Throws InputError: as the readers of
/// [[wires]],
/// [[keep]], [[lamps]] and [board], and if there are no wires.
WiringSheet wiring_sheet_of(const Vehicle& vehicle);

/// The same of what has been read.
WiringSheet check_wiring(Wiring wiring, const Lamps& lamps, Loads loads);

} // namespace winkhold::bike
