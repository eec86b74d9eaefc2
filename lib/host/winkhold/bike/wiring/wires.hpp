/// Every connection of a conversion, and the factory parts that must stay connected: the vehicle file's
/// [[wires]] and [[keep]]. data/README.md documents the fields.
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::bike {

/// Factory lines that can be tapped.
inline constexpr std::array<std::string_view, 5> tap_lines{"left", "right", "brake", "tail", "supply"};

/// What one end of a wire is joined to.
struct WireEnd {
    /// What a wire ends at.
    enum class Kind {
        tap,      ///< a factory line: left, right, brake, tail or supply
        pin,      ///< a pin that the board's logic drives or reads; takes one wire
        lamps,    ///< a group of [[lamps]], by its name
        battery,  ///< battery plus, always live
        switched, ///< a factory line that is live with the key on
        ground,
        board, ///< any other terminal of the board: its supply, its drivers' outputs
        part,  ///< anything else: a relay, a splice, a fuse box
    };
    Kind kind{Kind::part};
    std::string name; ///< "A0", "front left"; may be empty for battery, switched, ground and board
};

/// Its word in vehicle files, tables and JSON.
constexpr std::string_view name(WireEnd::Kind kind) {
    constexpr std::string_view names[] = {"tap",      "pin",    "lamps", "battery",
                                          "switched", "ground", "board", "part"};
    return names[static_cast<std::size_t>(kind)];
}
/// "pin A0", as the file spells it.
std::string text(const WireEnd& end);

/// One connection of [[wires]], from one end to the other.
struct Wire {
    std::string label; ///< what is written on both its ends
    std::string colour;
    WireEnd from;
    WireEnd to;
    std::optional<int> awg;
    std::optional<double> length_m;
    std::optional<double> fuse_a;
    std::optional<double> current_ma; ///< most it carries
    std::string connector;
    std::string cavity; ///< place within the connector
    bool cuts{false};   ///< the factory line ends at this tap: what hung behind it is off
    /// It lies in a harness with other loaded wires and carries half; not said: taken as if it did.
    std::optional<bool> bundled;
    /// What the vehicle's other sections say that it carries at the most, filled in by check_wiring(). Unit:
    /// mA
    std::optional<double> computed_ma{};
    std::string where; ///< file:line

    /// Either end is of this kind.
    bool ends_at(WireEnd::Kind kind) const { return from.kind == kind || to.kind == kind; }
    /// The end of this kind, if there is one.
    const WireEnd* end(WireEnd::Kind kind) const {
        return from.kind == kind ? &from : to.kind == kind ? &to : nullptr;
    }
};

/// A factory part that goes on working.
struct Kept {
    /// What must stay connected: a factory tell-tale, or a module that watches the lamps.
    enum class Kind { tell_tale, module };
    std::string name;
    Kind kind{Kind::module};
    std::string line; ///< the factory line it hangs on, named like a tap; empty: none of its own, or not said
    std::string why;
    bool connected{true};
    std::string where; ///< file:line
};

/// Its word in vehicle files, tables and JSON.
constexpr std::string_view name(Kept::Kind kind) {
    return kind == Kept::Kind::tell_tale ? "tell-tale" : "module";
}

/// All wires of a conversion, and the factory parts that stay.
struct Wiring {
    std::string vehicle; ///< its name
    std::vector<Wire> wires;
    std::vector<Kept> kept;
};

/// Throws InputError for fields that don't fit. A file without wires has
/// none.
Wiring wiring_of(const Vehicle& vehicle);

} // namespace winkhold::bike
