// One table of pins: where two of its rows change places, wiring, electrics and pack all change their minds.
#include "winkhold/base/error.hpp"
#include "winkhold/bike/electrics/electrics.hpp"
#include "winkhold/bike/pack/pack.hpp"
#include "winkhold/bike/pins/detail/chip_pin_table.hpp"
#include "winkhold/bike/wiring/check.hpp"

#include <algorithm>
#include <array>
#include <gtest/gtest.h>
#include <utility>

namespace winkhold::bike {

/// The library's rows; two of them swapped now and then.
static std::array<ChipPin, std::size(chip_pin_table)> rows = std::to_array(chip_pin_table);

/// This program's own, in place of the library's.
std::span<const ChipPin> chip_pins() {
    return rows;
}

namespace {

/// What is printed on the board beside two of the chip's pins is swapped while this lives.
class Swapped {
public:
    Swapped(std::string_view one, std::string_view other) : a_(row(one)), b_(row(other)) {
        std::swap(a_.printed, b_.printed);
    }
    ~Swapped() { std::swap(a_.printed, b_.printed); }
    Swapped(const Swapped&) = delete;
    Swapped& operator=(const Swapped&) = delete;

private:
    static ChipPin& row(std::string_view printed) {
        return *std::find_if(rows.begin(), rows.end(),
                             [&](const ChipPin& pin) { return pin.printed == printed; });
    }

    ChipPin& a_;
    ChipPin& b_;
};

/// What each of the three has to say of the demo bike.
struct Said {
    std::string wiring;
    std::string electrics;
    std::string pack;
};

Said said() {
    const Vehicle vehicle = Vehicle::read(WINKHOLD_DATA "/vehicles/demo.toml");
    Said said;
    for (const WireFinding& finding : wiring_sheet_of(vehicle).findings)
        said.wiring += finding.text + "\n";
    for (const Check& check : judge_electrics(vehicle).checks)
        if (check.verdict == CheckVerdict::finding) said.electrics += check.what + "\n";
    try {
        for (const PackedFile& file : pack_of(vehicle, PackKind::headers, "test").files)
            if (file.path == "bike.hpp") said.pack = file.text;
    } catch (const InputError& refused) {
        said.pack = refused.what();
    }
    return said;
}

TEST(SwappedPins, WiringElectricsAndPackAllDiffer) {
    const Said as_it_is = said();
    EXPECT_EQ(as_it_is.wiring, "");
    EXPECT_EQ(as_it_is.electrics, "");
    const Swapped swapped("D9", "D12"); // the stop lamps: a timer's output, and the SPI's input
    const Said now = said();
    EXPECT_NE(now.wiring.find("lamps stop are at pin D9 (PB4), which the chip needs (SPI input)"),
              std::string::npos)
        << now.wiring;
    EXPECT_NE(now.electrics.find("stop is lit at more brightnesses than dark and 255, but pin D9 (PB4)"),
              std::string::npos)
        << now.electrics;
    EXPECT_NE(now.pack.find("but pin D9 (PB4) is on or off"), std::string::npos) << now.pack;
}

TEST(SwappedPins, ATapMovesInThePack) {
    const Said as_it_is = said();
    EXPECT_NE(as_it_is.pack.find("adc_tap(Lines::left, Pin::c0, "), std::string::npos);
    const Swapped swapped("A0", "A5");
    const Said now = said();
    EXPECT_NE(now.pack.find("adc_tap(Lines::left, Pin::c5, "), std::string::npos);
    EXPECT_EQ(now.pack.find("Pin::c0"), std::string::npos);
}

TEST(SwappedPins, TheRegistersLinesMoveToo) {
    const Swapped swapped("D3", "D2"); // the registers' enable, which needs no timer: they aren't dimmed
    EXPECT_NE(said().pack.find("constexpr Registers registers{32, 255, Pin::b2, Pin::d2, "),
              std::string::npos);
    const Swapped data("D11", "D7");
    EXPECT_NE(said().electrics.find("register_data is D11, but the chip's SPI data is pin D7 (PB3)"),
              std::string::npos);
}

} // namespace
} // namespace winkhold::bike
