// README.md of a pack: what goes where, and how it gets onto the board and off again.
#include "winkhold/bike/pack/detail/texts.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"
#include "winkhold/bike/wiring/wires.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr std::string_view build_and_check = R"(
## Build

Debian's `gcc-avr`, `avr-libc` and `make`; no other file is needed.

```sh
make                 # board.hex
```

## Check

```sh
make check           # needs simavr; says "self-test passed"
```

It plays a ride with this bike's settings and compares every lamp at each change with what the bench has worked out. To
run it on the chip itself, flash `selftest.hex` (`make selftest.hex`), reset, and read the UART (D1, 115200 baud, 8N1);
it lights nothing. Then look at each lamp, and work through `winkhold checklist`.
)";

/// With the brown-out fuse, and what to say of it.
constexpr const char* flash = R"(
## Flash

Key off, the board's supply unplugged, a programmer on the chip's SPI. First keep what is on the chip, so that you can
go back:

```sh
avrdude -p m328p -c PROGRAMMER -P PORT -U flash:r:before.hex:i -U eeprom:r:before.eep:i \
    -U lfuse:r:before.lfuse:h -U hfuse:r:before.hfuse:h -U efuse:r:before.efuse:h
avrdude -p m328p -c PROGRAMMER -P PORT -U flash:w:board.hex \
    -U lfuse:w:0xff:m -U hfuse:w:0xd1:m -U efuse:w:{}:m
```

The fuses (data sheet, from memory): a crystal of 16 MHz; no boot loader, which would keep the stop lamp dark after each
reset; the EEPROM outlives the next flashing; {}
)";

constexpr std::string_view reset_at_4_3_v = "a reset below 4.3 V.";
constexpr std::string_view reset_at_2_7_v = R"(a reset below 2.7 V, so that the board runs down to
the `least_v` of its file. Below 3.8 V no data sheet vouches for 16 MHz (derived).)";

constexpr std::string_view go_back = R"(
## Go back

```sh
avrdude -p m328p -c PROGRAMMER -P PORT -U flash:w:before.hex:i -U eeprom:w:before.eep:i \
    -U lfuse:w:before.lfuse:h -U hfuse:w:before.hfuse:h -U efuse:w:before.efuse:h
```
)";

constexpr std::string_view of_your_own = R"(
`bike.hpp` has settings, lamp groups, taps and outputs, each with its reason; `parts.hpp` says in what words;
`winkhold/core` decodes and plays: C++14, freestanding, headers only. `own_firmware.cpp` is a whole firmware of some
twenty lines to begin with:

```sh
avr-g++ -std=c++14 -mmcu=atmega328p -Os -I. own_firmware.cpp -o own_firmware.elf
```

Call `step()` when a tap changes and at `wake()`. State `static_assert(check(...) == ...)` for what you change: nothing is
clamped.
)";

constexpr std::string_view cautions = R"(
## Cautions

- Turn and stop lamps are safety equipment. Keep the factory's tell-tales, and keep to the rules of where you ride:
  they come first.
- Never tune while riding. Try everything at standstill, then on closed ground.
- Have the wiring checked by someone licensed before you ride.
)";

/// What somebody wrote: plain text, whatever it looks like. A whole step of the way back is longer than a
/// name.
std::string in_markdown(std::string_view text) {
    return markdown_text(legible(text));
}

class Sheet {
public:
    explicit Sheet(const PackCase& pack) : pack_(pack), plan_(pack.plan) {}

    std::string firmware() {
        add_head("Firmware for one bike and no other");
        add_pins();
        text_ += build_and_check;
        add_flash();
        text_ += go_back;
        add_way_back();
        text_ += cautions;
        return std::move(text_);
    }

    std::string headers() {
        add_head("Settings of one bike, for a firmware of your own");
        text_ += of_your_own;
        add_pins();
        text_ += cautions;
        return std::move(text_);
    }

private:
    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        fmt::format_to(std::back_inserter(text_), format, std::forward<Values>(values)...);
    }

    void add_head(const char* what) {
        add("# {}\n\n{}, written by {} from", in_markdown(pack_.vehicle.name()), what, pack_.version);
        for (const Vehicle::File& file : pack_.vehicle.files())
            add(" `{}` (CRC-32 {:08x})", file_name(file.path), file.crc32);
        add(".\nAnother bike, or another state of that file, takes another pack.\n");
    }

    static std::string numbers(const ChipPin& pin) {
        return pin.dip28 == 0 ? fmt::format("-/{}", pin.tqfp32) : fmt::format("{}/{}", pin.dip28, pin.tqfp32);
    }

    const std::string& group(int place) const {
        return plan_.lamps.lamps[static_cast<std::size_t>(place)].name;
    }

    void add_pins() {
        add("\n## What is where\n\nATmega328P, 16 MHz crystal. Numbers are those of the chip's legs, 28-pin "
            "and 32-pin "
            "package.\n\n| pin | leg | what |\n|---|---|---|\n");
        for (const PlannedTap& tap : plan_.taps)
            add("| {} | {} | tap {}, lit while the pin is {}{} |\n", bike::text(*tap.pin), numbers(*tap.pin),
                measure::name(tap.line), tap.lit_high ? "high" : "low",
                tap.counts
                    ? fmt::format(": high from {} of 1024, low up to {}", tap.counts->high, tap.counts->low)
                    : "");
        for (const PlannedPin& lamp : plan_.pins)
            add("| {} | {} | lamps {}{} |\n", bike::text(*lamp.pin), numbers(*lamp.pin),
                in_markdown(group(lamp.group)),
                plays_in_turn(lamp.group) ? fmt::format(", from lamp {} on", lamp.lamp + 1) : "");
        if (plan_.registers.outputs == 0) return;
        const auto line = [&](const ChipPin& pin, const char* what) {
            add("| {} | {} | registers' {} |\n", bike::text(pin), numbers(pin), what);
        };
        line(reserved_pin("SPI data"), "data, to SR1; each register passes it on to the next one");
        line(reserved_pin("SPI clock"), "clock");
        line(*plan_.registers.latch, "latch");
        line(*plan_.registers.enable, "enable, low is on");
        add("\n| output of the chain | lamps |\n|---|---|\n");
        for (const PlannedRun& run : plan_.runs)
            add("| {} to {} | {}, from lamp {} on |\n", run.first_output + 1, run.first_output + run.count,
                in_markdown(group(run.group)), run.first_lamp + 1);
    }

    bool plays_in_turn(int place) const {
        const core::LampGroup& plays = plan_.lamps.lamps[static_cast<std::size_t>(place)].plays;
        return plays.pattern.fills == core::Pattern::Fills::lamps && !plays.all_at_once();
    }

    void add_flash() {
        constexpr double upper_v = 4.3;
        const std::optional<Board> board = supply_sections_of(pack_.vehicle).board;
        const bool is_low = board && board->least_v.value_or(upper_v) < upper_v;
        text_ += fmt::format(fmt::runtime(flash), is_low ? "0xfd" : "0xfc",
                             is_low ? reset_at_2_7_v : reset_at_4_3_v);
    }

    void add_way_back() {
        const Wiring wiring = wiring_of(pack_.vehicle);
        if (wiring.wires.empty()) return;
        add("\nAnd the bike, to what the factory made:\n\n");
        int number = 0;
        for (const std::string& step : restore_steps(wiring, plan_.lamps.lamps))
            add("{}. {}\n", ++number, in_markdown(step));
    }

    const PackCase& pack_;
    const BoardPlan& plan_;
    std::string text_;
};

} // namespace

std::string sheet_text(const PackCase& pack) {
    return Sheet(pack).firmware();
}

std::string headers_sheet_text(const PackCase& pack) {
    return Sheet(pack).headers();
}

} // namespace winkhold::bike
