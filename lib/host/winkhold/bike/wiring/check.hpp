/// What is wrong with the list of connections.
#pragma once

#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/electrics/supply.hpp"
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
        no_such_output,
        wrong_pin,
        pin_reserved,
        driver_differs,
        outputs_joined,
        sides_on_one_output,
        no_fuse,
        fuse_too_small,
        fuse_too_large,
        wire_overloaded,
        ground_too_thin,
        pin_overloaded,
        port_overloaded,
        package_overloaded,
        current_differs,
        run_differs,
        lamps_not_reached,
        lamps_not_known,
        lamps_no_plus,
        lamps_no_return,
        lamps_always_lit,
        lamps_on_tap,
        lamps_do_not_count,
        lamp_pin_not_reached,
        tap_not_reached,
        board_no_supply,
        board_no_ground,
        short_circuit,
        taps_joined,
        tap_on_live,
        pin_on_rail,
        output_on_rail,
        cut_line,
        kept_unplugged,
        // warnings: contradictions that somebody may mean
        name_against_side,
        sides_unequal,
        label_against_end,
        lamps_out_of_order,
        implausible,
    };
    Kind kind;
    std::string where; ///< file:line
    std::string text;  ///< what is wrong and what to do
};

/// Its word in tables and JSON.
constexpr std::string_view name(WireFinding::Kind kind) {
    constexpr std::string_view names[] = {"no-label",
                                          "label-double",
                                          "pin-double",
                                          "cavity-double",
                                          "pin-two-jobs",
                                          "no-such-output",
                                          "wrong-pin",
                                          "pin-reserved",
                                          "driver-differs",
                                          "outputs-joined",
                                          "sides-on-one-output",
                                          "no-fuse",
                                          "fuse-too-small",
                                          "fuse-too-large",
                                          "wire-overloaded",
                                          "ground-too-thin",
                                          "pin-overloaded",
                                          "port-overloaded",
                                          "package-overloaded",
                                          "current-differs",
                                          "run-differs",
                                          "lamps-not-reached",
                                          "lamps-not-known",
                                          "lamps-no-plus",
                                          "lamps-no-return",
                                          "lamps-always-lit",
                                          "lamps-on-tap",
                                          "lamps-do-not-count",
                                          "lamp-pin-not-reached",
                                          "tap-not-reached",
                                          "board-no-supply",
                                          "board-no-ground",
                                          "short-circuit",
                                          "taps-joined",
                                          "tap-on-live",
                                          "pin-on-rail",
                                          "output-on-rail",
                                          "cut-line",
                                          "kept-unplugged",
                                          "name-against-side",
                                          "sides-unequal",
                                          "label-against-end",
                                          "lamps-out-of-order",
                                          "implausible"};
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
    std::optional<double> tap_ma;  ///< a tapped line gives to bleeder and divider
};

/// What [board] says of its terminals and of its supply wire. Absent: not said.
struct BoardFacts {
    std::optional<RegisterKind> register_kind;
    std::optional<int> register_outputs;
    std::vector<std::string> tap_pins; ///< where the firmware reads each of tap_lines; empty: nowhere
    /// Pins that the chain of registers hangs on, and what for; those that are said.
    std::vector<std::pair<std::string, std::string>> register_pins;
    std::optional<int> awg;
    std::optional<double> length_m;
};

/// Not judged, where [[keep]] has no tell-tale: a bike may never have had any.
inline constexpr std::string_view no_tell_tale =
    "tell-tales: none is named in [[keep]], so nobody checks that they still work";

/// Wires, loads and findings, ready to be printed.
struct WiringSheet {
    Wiring wiring;
    Loads loads;
    std::vector<WireFinding> findings; ///< in the order of WireFinding::Kind, then of the file
    std::vector<WireFinding> warnings; ///< contradictions that somebody may mean, in the same order
    /// Checks that need more than the file says, a sentence each. Never taken as passed.
    std::vector<std::string> not_judged;
    StillExample still_example{}; ///< of that nothing passes
};

/// What a wire carries: its own current_ma, else worked out. Unit: mA.
inline std::optional<double> load_ma(const Wire& wire) {
    return wire.current_ma ? wire.current_ma : wire.computed_ma;
}

/// "wire TL", or by its ends if it has no label.
std::string wire_name(const Wire& wire);

/// The wires as nets (what hangs together by splices and terminals), and what is wrong with them: doubles,
/// rails joined to what they must not be, lamps without a way there and back, fuses and gauges (load / 0.75
/// <= fuse <= what the wire carries, half of it in a bundle), figures and names that contradict each other.
/// What can't be followed is not judged, by name. Throws InputError: as the readers of [[wires]], [[keep]],
/// [[lamps]], [front_end] and [board], and if there are no wires.
WiringSheet wiring_sheet_of(const Vehicle& vehicle);

/// The same of what has been read.
WiringSheet check_wiring(Wiring wiring, const Lamps& lamps, Loads loads, const BoardFacts& board);

} // namespace winkhold::bike
