/// Vehicles whose boards have little in common with the demo's.
#pragma once

#include <string>

namespace winkhold::testing {

/// No registers: taps at plain inputs, low while lit; two brakes; fades, and lamps one by one on pins.
inline const std::string bare_bike = R"([vehicle]
name = "Bare \"bike\" with ??/ and a long dash \u2014 in its name"

[decoder]
settle = "12ms"              # relay of 1987, measured 9 ms \
hold_rule = "fixed"
hold = "840ms"               # sweep of ride.csv, 1000 rides

[sequence]
clock = "own-rate"
rate_per_min = 90
duty_percent = 55

[front_end]
input = "logic"
part = "ATmega328P"
active_left = "low"
active_right = "low"
second_brake = true

[board]
tap_pins = ["D2", "pd4", "A0", "A1", "D8", "A2"]

[[lamps]]
name = "left"
job = "turn"
side = "left"
count = 3
brightness = 200
dimmed = 20
pattern = "outward"
step = "45.5ms"
driver = "transistor"
pins = ["D9", "D10", "D3"]

[[lamps]]
name = "right"
job = "turn"
side = "right"
count = 9
pattern = "fade"
block = 25
step = "12ms"
stay = "100ms"
blank = "90ms"
driver = "transistor"
pins = ["D5"]

[[lamps]]
name = "stop"
job = "stop"
side = "both"
count = 4
driver = "pin"
pins = ["A3", "A4"]

[[lamps]]
name = "marker"
job = "marker"
side = "both"
count = 1
brightness = 33
driver = "transistor"
pins = ["D6"]
)";

/// Registers alone, dimmed; strings in series, blocks, two groups that share a register by their wires.
inline const std::string register_bike = R"([vehicle]
name = "Register bike"

[decoder]
gap_prior = "350ms"

[front_end]
top_kohm = 100
bottom_kohm = 33
pin_v = 5
input = "adc"
on_above = 6
off_below = 4

[board]
tap_pins = ["A7", "A6", "A5", "A4"]
register_outputs = 8
register_data = "PB3"
register_clock = "D13"
register_latch = "A0"
register_enable = "D9"
shift_hz = 1_000_000

[[lamps]]
name = "left"
job = "turn"
side = "left"
count = 10
pattern = "blocks"
block = 4
step = "33ms"
brightness = 100
in_series = 1
driver = "shift-register"
pins = ["SR1"]

[[lamps]]
name = "right"
job = "turn"
side = "right"
count = 12
pattern = "blocks"
block = 3
step = "33ms"
brightness = 100
in_series = 3
driver = "shift-register"
pins = ["SR3"]

[[lamps]]
name = "stop"
job = "stop"
side = "both"
count = 18
brightness = 100
in_series = 3
driver = "shift-register"
pins = ["SR2", "SR1"]

[[wires]]
label = ["L1", "L2", "L3", "S1", "S2"]
from = ["lamps left", "lamps left", "lamps left", "lamps stop", "lamps stop"]
to = ["board SR1.3", "board SR1.5", "board SR1.4", "board SR2.8", "board SR1.8"]
awg = 22
)";

/// A Schmitt trigger that turns each line over; one tail lamp on a pin that is on or off; a long chain.
inline const std::string schmitt_bike = R"([vehicle]
name = "Schmitt bike"

[front_end]
input = "schmitt"
part = "74HC1G14"

[board]
tap_pins = ["A0", "A1", "A2", "A3"]
register_data = "D11"
register_clock = "D13"
register_latch = "D10"
register_enable = "D4"
shift_hz = 8_000_000

[[lamps]]
name = "far left"
job = "turn"
side = "left"
count = 8
pattern = "outward"
step = "20ms"
driver = "shift-register"
pins = ["SR31"]

[[lamps]]
name = "both"
job = "turn"
side = "both"
count = 16
pattern = "outward"
step = "12ms"
stay = "150ms"
driver = "shift-register"
pins = ["SR2", "SR1"]

[[lamps]]
name = "stop"
job = "stop"
side = "both"
count = 2
dimmed = 3
driver = "transistor"
pins = ["D3"]

[[lamps]]
name = "tail"
job = "tail"
side = "left"
count = 2
dimmed = 0
driver = "pin"
pins = ["D7"]
)";

} // namespace winkhold::testing
