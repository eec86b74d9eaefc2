/// The wiring as a graph: terminals, and wires between them. What hangs together is a net.
#pragma once

#include "winkhold/bike/wiring/detail/terminals.hpp"

#include <array>

namespace winkhold::bike {

class Nets {
public:
    struct Net {
        std::vector<std::size_t> wires; ///< places in Wiring::wires, rising
        std::vector<std::size_t> terminals;
        bool plus{false};    ///< battery, switched, or what the board passes on of them
        bool ground{false};  ///< the bike's or the board's
        bool tap{false};     ///< a factory line
        bool is_part{false}; ///< a closed part, or a terminal of the board that nothing is known of
        bool left{false};    ///< lamps of this side
        bool right{false};
        std::vector<const Terminal*> outputs{}; ///< what switches lamps: outputs of drivers, and pins

        /// Told as a short circuit; nothing else is to be learnt from it.
        bool is_shorted() const { return ground && (plus || tap); }
        /// It can't be followed to anything that lights lamps.
        bool is_open() const { return !plus && !ground && !tap && outputs.empty(); }
    };

    /// Wires that end at one splice, one terminal of the board, at ground or at the battery are joined. Lamps
    /// and closed parts join nothing: each wire ends at a terminal of its own there.
    Nets(const Wiring& wiring, const Lamps& lamps);
    Nets(const Nets&) = delete; // nets point to terminals
    Nets& operator=(const Nets&) = delete;

    const std::vector<Net>& all() const { return nets_; }
    const Terminal& at(std::size_t terminal) const { return terminals_[terminal]; }
    /// The terminals that a wire joins.
    const std::array<std::size_t, 2>& ends(std::size_t wire) const { return ends_[wire]; }
    const Net& of_wire(std::size_t wire) const { return nets_[net_of_[ends_[wire][0]]]; }
    /// The first terminal of this role; null: none.
    const Terminal* find(const Net& net, Terminal::Role role) const;
    std::vector<const Terminal*> all(const Net& net, Terminal::Role role) const;
    /// The wires of a shortest way between two terminals of `net`, in their order.
    std::vector<std::size_t> way(const Net& net, const Terminal& from, const Terminal& to) const;

private:
    void sum_up(Net& net, const Lamps& lamps) const;
    std::size_t place_of(const Terminal& terminal) const {
        return static_cast<std::size_t>(&terminal - terminals_.data());
    }

    std::vector<Terminal> terminals_;
    std::vector<std::array<std::size_t, 2>> ends_;
    std::vector<std::size_t> net_of_; ///< by terminal
    std::vector<Net> nets_;
};

} // namespace winkhold::bike
