/// A small bike whose wiring has nothing wrong, for tests that break one thing.
#pragma once

#include "program/run.hpp"

#include <string>
#include <utility>
#include <vector>

namespace winkhold::testing {

inline const std::string small_bike = R"([vehicle]
name = "Test bike"

[board]
board_ma = 20
sleep_ma = 2
pin_ma = 20
port_ma = 30
package_ma = 40

[[lamps]]
name = "front left"
job = "turn"
side = "left"
count = 2
pattern = "outward"
step = "30ms"
pins = ["D3", "D4"]

[[lamps]]
name = "stop"
job = "stop"
side = "both"
count = 4
driver = "transistor"
pins = ["D9"]

[[wires]]
label = "B+"
from = "battery"
to = "board plus"
awg = 18
fuse_a = 2
current_ma = 1500

[[wires]]
label = "GND"
from = "board minus"
to = "ground"
awg = 18

[[wires]]
label = ["TL", "TB"]
from = ["tap left", "tap brake"]
to = ["pin A0", "pin A1"]
awg = 24
fuse_a = [0.5, 0.5]
current_ma = 1
connector = "J2"
cavity = ["1", "2"]

[[wires]]
label = ["FL1", "FL2"]
from = ["pin D3", "pin D4"]
to = "lamps front left"
awg = 24
current_ma = [15, 15]

[[wires]]
label = "ST"
from = "board out"
to = "lamps stop"
awg = 24
current_ma = 80

[[keep]]
name = "left pilot"
kind = "tell-tale"
line = "left"
connected = true
)";

/// What stands there, and what takes its place; where nothing stands, it is added at the end.
using Edits = std::vector<std::pair<std::string, std::string>>;

inline std::string bike_with(const Edits& edits) {
    std::string text = small_bike;
    for (const auto& [from, to] : edits) {
        if (from.empty()) {
            text += to;
            continue;
        }
        const std::size_t at = text.find(from);
        if (at == std::string::npos || text.find(from, at + 1) != std::string::npos)
            throw std::logic_error("\"" + from + "\" doesn't stand once in the small bike");
        text.replace(at, from.size(), to);
    }
    return text;
}

} // namespace winkhold::testing
