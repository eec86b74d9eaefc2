/// A file that breaks one rule of the wiring and nothing else, and its good twin.
#pragma once

#include "winkhold/bike/wiring/check.hpp"
#include "wiring/bike.hpp"

namespace winkhold::testing {

using Kind = host::WireFinding::Kind;

struct Breach {
    std::string rule;
    Edits broken;
    Edits good;
    Kind kind;
    std::string says; ///< part of the finding
    std::string at;   ///< the finding's line is the first that holds this
};

inline void PrintTo(const Breach& breach, std::ostream* out) {
    *out << breach.rule;
}

/// What must not be joined and what must hang together.
std::vector<Breach> net_breaches();
/// Figures and names that contradict each other.
std::vector<Breach> contradictions();

inline std::string wire_to(const std::string& from, const std::string& to, const std::string& more = {},
                           const std::string& label = "X") {
    return "[[wires]]\nlabel = \"" + label + "\"\nfrom = \"" + from + "\"\nto = \"" + to +
           "\"\nawg = 24\nbundled = false\ncurrent_ma = 1\n" + more;
}

/// Markers of both sides; the left one is on transistor D7, the right one wherever it is said.
inline Edits two_sides(const std::string& right, const std::string& pins) {
    const auto marker = [](const std::string& side, const std::string& listed) {
        return "[[lamps]]\nname = \"marker " + side + "\"\njob = \"marker\"\nside = \"" + side +
               "\"\ncount = 1\ndriver = \"transistor\"\npins = " + listed + "\n";
    };
    return {{"", marker("left", "[\"D7\"]") + marker("right", right.find("D7") == right.npos ? pins : "[]") +
                     wire_to("board lamps plus", "lamps marker left", "", "ML+") +
                     wire_to("board lamps plus", "lamps marker right", "", "MR+") +
                     wire_to("lamps marker left", "board D7 transistor", "", "ML") +
                     wire_to("lamps marker right", right, "", "MR")}};
}

/// Two lamps that light one after the other, each on an output of a register.
inline std::string registers(const std::string& second, const std::string& first = "SR1.1", int count = 2) {
    return "[[lamps]]\nname = \"tail\"\njob = \"turn\"\nside = \"both\"\ncount = " + std::to_string(count) +
           "\npattern = \"outward\"\n"
           "step = \"30ms\"\ndriver = \"shift-register\"\npins = [\"SR1\"]\n" +
           wire_to("board lamps plus", "lamps tail", "", "T+") +
           wire_to("lamps tail", "board " + first, "", "T1") +
           wire_to("lamps tail", "board " + second, "", "T2");
}

} // namespace winkhold::testing
