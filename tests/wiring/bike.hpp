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
register_outputs = 8
tap_pins = ["A0", "A3", "A1"]

[[lamps]]
name = "front left"
job = "turn"
side = "left"
at = "front"
count = 2
pattern = "outward"
step = "30ms"
driver = "pin"
pins = ["D3", "D4"]

[[lamps]]
name = "front right"
job = "turn"
side = "right"
at = "front"
count = 2
pattern = "outward"
step = "30ms"
driver = "pin"
pins = ["D10", "D8"]

[[lamps]]
name = "stop"
job = "stop"
side = "both"
at = "rear"
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
bundled = false
fuse_a = [0.5, 0.5]
current_ma = 1
connector = "J2"
cavity = ["1", "2"]

[[wires]]
label = "TR"
from = "tap right"
to = "pin A3"
awg = 24
fuse_a = 0.5
current_ma = 2

[[wires]]
label = ["FL1", "FL2"]
from = ["pin D3", "pin D4"]
to = "lamps front left"
awg = 24
bundled = false
current_ma = [15, 15]

[[wires]]
label = ["FR1", "FR2"]
from = ["pin D10", "pin D8"]
to = "lamps front right"
awg = 24
current_ma = 0.1

[[wires]]
label = ["FL-", "FR-"]
from = ["lamps front left", "lamps front right"]
to = "board minus"
awg = 20
current_ma = 31

[[wires]]
label = "ST-"
from = "lamps stop"
to = "board D9 transistor"
awg = 20
current_ma = 81

[[wires]]
label = "ST"
from = "board lamps plus"
to = "lamps stop"
awg = 24
bundled = false
current_ma = 80

[[keep]]
name = "left pilot"
kind = "tell-tale"
line = "left"
connected = true

[[keep]]
name = "right pilot"
kind = "tell-tale"
line = "right"
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
