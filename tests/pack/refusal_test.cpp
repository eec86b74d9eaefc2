// What is not packed, and why: each breaks one thing of a bike that packs. After it nothing is written.
#include "pack/bikes.hpp"
#include "program/run.hpp"

#include <filesystem>
#include <gtest/gtest.h>
#include <utility>
#include <vector>

namespace winkhold::testing {
namespace {

namespace fs = std::filesystem;

using Edits = std::vector<std::pair<std::string, std::string>>; ///< what stands there, what takes its place

struct Refused {
    std::string rule;
    const std::string* bike;
    Edits broken;
    std::string says;
    Edits good{}; ///< nearly the same, and packs
};

void PrintTo(const Refused& refused, std::ostream* out) {
    *out << refused.rule;
}

std::string with(std::string text, const Edits& edits) {
    for (const auto& [from, to] : edits) {
        const std::size_t at = text.find(from);
        if (at == std::string::npos) throw std::logic_error("\"" + from + "\" doesn't stand there");
        text.replace(at, from.size(), to);
    }
    return text;
}

/// Each on an output of its own.
std::string many_markers(int count) {
    std::string text;
    for (int i = 0; i < count; ++i)
        text += fmt::format(
            "[[lamps]]\nname = \"marker {0}\"\njob = \"marker\"\nside = \"both\"\ncount = 1\n"
            "driver = \"shift-register\"\npins = [\"SR{1}\"]\n"
            "[[wires]]\nlabel = \"M{0}\"\nfrom = \"lamps marker {0}\"\nto = \"board SR{1}.{2}\"\n",
            i, 10 + i / 4, 1 + 2 * (i % 4));
    return text;
}

class Refuses : public ::testing::TestWithParam<Refused> {};

TEST_P(Refuses, ThatAloneAndNotItsTwin) {
    const Refused& refused = GetParam();
    const Scratch scratch;
    const std::string broken = scratch.write("broken.toml", with(*refused.bike, refused.broken));
    const Ran ran = scratch.run("pack " + broken + " " + scratch.path("out"));
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find(refused.says), std::string::npos) << ran.err;
    EXPECT_EQ(ran.out, "");
    EXPECT_FALSE(fs::exists(scratch.path("out")));
    const std::string good = scratch.write("good.toml", with(*refused.bike, refused.good));
    const Ran packed = scratch.run("pack " + good + " " + scratch.path("out"));
    EXPECT_EQ(packed.exit_code, 0) << packed.err;
}

const Refused refusals[] = {
    {"a_section_of_the_example",
     &bare_bike,
     {{"[board]\n", "[board]\nexample = true\n"}},
     "broken.toml:22: [board] is still the example's",
     {{"[board]\n", "[board]\nexample = false\n"}}},
    {"settle_above_20_ms",
     &bare_bike,
     {{"settle = \"12ms\"", "settle = \"20001us\""}},
     "broken.toml:5: [decoder] settle is 20.001 ms; on a bike it is 20 ms at most",
     {{"settle = \"12ms\"", "settle = \"20ms\""}}},
    {"hold_above_1200_ms",
     &bare_bike,
     {{"hold = \"840ms\"", "hold = \"1201ms\""}},
     "broken.toml:7: [decoder] hold is 1201 ms; on a bike it is 1200 ms at most",
     {{"hold = \"840ms\"", "hold = \"1200ms\""}}},
    {"no_front_end", &schmitt_bike, {{"[front_end]", "[keep]"}}, "[front_end] is missing"},
    {"no_tap_pins", &schmitt_bike, {{"tap_pins", "# tap_pins"}}, "[board] tap_pins is missing"},
    {"a_schmitt_trigger_of_which_nobody_knows_whether_it_inverts",
     &schmitt_bike,
     {{"part = \"74HC1G14\"", "rise_v = [1.7, 3.1]\nfall_v = [0.9, 2]"}},
     "whether the Schmitt trigger's output is low while the line is high is not known",
     {{"part = \"74HC1G14\"", "rise_v = [1.7, 3.1]\nfall_v = [0.9, 2]\ninverts = false"}}},
    {"a_tap_where_the_chip_has_none",
     &schmitt_bike,
     {{"\"A3\"]", "\"A9\"]"}},
     "tap tail at A9: the chip has no such pin",
     {{"\"A3\"]", "\"A5\"]"}}},
    {"a_tap_at_the_uart",
     &schmitt_bike,
     {{"\"A0\"", "\"D0\""}},
     "tap left at D0: the chip needs that pin (UART)",
     {{"\"A0\"", "\"D2\""}}},
    {"an_analog_tap_at_a_digital_pin",
     &register_bike,
     {{"\"A7\"", "\"D2\""}},
     "tap left at D2: the converter doesn't read that pin",
     {{"\"A7\"", "\"A1\""}}},
    {"a_digital_tap_at_a_pin_of_the_converter",
     &schmitt_bike,
     {{"\"A0\"", "\"A6\""}},
     "tap left at A6: only the converter reads that pin"},
    {"two_taps_at_one_pin",
     &schmitt_bike,
     {{"\"A1\"", "\"PC0\""}},
     "reads left and right at one pin, A0 (PC0)"},
    {"a_second_brake_without_a_pin",
     &bare_bike,
     {{", \"A2\"]", "]"}},
     "names no sixth pin, for the second brake",
     {{", \"A2\"]", "]"}, {"second_brake = true\n", ""}}},
    {"thresholds_that_the_converter_cannot_tell_apart",
     &register_bike,
     {{"bottom_kohm = 33", "bottom_kohm = 330"}, {"on_above = 6", "on_above = 6.6"}},
     "the converter can't tell 6.6 V from 4 V of the line",
     {{"bottom_kohm = 33", "bottom_kohm = 330"}}},
    {"a_threshold_that_nobody_gave",
     &register_bike,
     {{"off_below = 4\n", ""}},
     "[front_end] off_below is missing; enter the volts of the line"},
    {"lamps_that_follow_a_line_nobody_reads",
     &schmitt_bike,
     {{"\"A2\", \"A3\"]", "\"\", \"A3\"]"}},
     "says no pin for tap brake, which lamps stop follow"},
    {"looks_at_taps_more_often_than_the_firmware",
     &schmitt_bike,
     {{"input = ", "sample = \"0.5ms\"\ninput = "}},
     "[front_end] sample is 500 us, but the firmware looks at each pin every 640 us",
     {{"input = ", "sample = \"1ms\"\ninput = "}}},
    {"another_pwm_than_the_firmwares",
     &register_bike,
     {{"shift_hz", "pwm_hz = 3900\nshift_hz"}},
     "[board] pwm_hz is 3900, but the firmware's timers make 16 MHz / 8 / 256 = 7812",
     {{"shift_hz", "pwm_hz = 7812\nshift_hz"}}},
    {"brightness_on_a_pin_without_a_timer",
     &bare_bike,
     {{"pins = [\"D6\"]", "pins = [\"D7\"]"}},
     "marker is lit at more brightnesses than dark and 255, but pin D7 (PD7) is on or off",
     {{"pins = [\"D6\"]", "pins = [\"D7\"]"}, {"brightness = 33", "brightness = 255"}}},
    {"a_fade_on_a_register",
     &register_bike,
     {{"pattern = \"blocks\"", "pattern = \"fade\""}},
     "lamps left fades, but a register's output is on or off"},
    {"registers_of_two_brightnesses",
     &register_bike,
     {{"brightness = 100\nin_series = 3\ndriver = \"shift-register\"\npins = [\"SR3\"]",
       "brightness = 101\nin_series = 3\ndriver = \"shift-register\"\npins = [\"SR3\"]"}},
     "all registers are dimmed together"},
    {"dimmed_registers_whose_enable_has_no_timer",
     &register_bike,
     {{"register_enable = \"D9\"", "register_enable = \"D8\""}},
     "registers are dimmed to 100, but register_enable is pin D8 (PB0)",
     {{"register_enable = \"D9\"", "register_enable = \"D3\""}}},
    {"two_groups_on_one_pin",
     &bare_bike,
     {{"pins = [\"D6\"]", "pins = [\"PD5\"]"}},
     "come to D5 (PD5), which lights lamps right, too"},
    {"one_pin_twice", &bare_bike, {{"\"A3\", \"A4\"", "\"A3\", \"PC3\""}}, "name A3 (PC3) twice"},
    {"two_groups_on_one_output_of_a_register",
     &register_bike,
     {{"board SR1.8", "board SR1.5"}},
     "come to SR1.5, which lights lamps left, too"},
    {"two_groups_on_one_register_without_wires_that_say_whose_is_what",
     &schmitt_bike,
     {{"pins = [\"SR31\"]", "pins = [\"SR1\"]"}},
     "which lights lamps far left, too; [[wires]] can say which output is whose"},
    {"lamps_at_a_taps_pin",
     &schmitt_bike,
     {{"pins = [\"D7\"]", "pins = [\"A1\"]"}},
     "name A1 (PC1), where tap right is read"},
    {"lamps_at_a_pin_that_can_only_be_read",
     &schmitt_bike,
     {{"\"D7\"", "\"A7\""}},
     "A7 (ADC7), which can only be read"},
    {"lamps_on_the_spi",
     &schmitt_bike,
     {{"\"D7\"", "\"D12\""}},
     "D12 (PB4), which the chip needs (SPI input)"},
    {"lamps_on_no_pin", &schmitt_bike, {{"\"D7\"", "\"D77\""}}, "name D77, but the chip has no such pin"},
    {"lamps_one_by_one_with_too_few_outputs",
     &bare_bike,
     {{"\"D9\", \"D10\", \"D3\"", "\"D9\", \"D10\""}},
     "come to 2 outputs, but 3 lamps that light 1 at a time"},
    {"lamps_one_by_one_in_series",
     &register_bike,
     {{"block = 3", "block = 2"}},
     "need strings that light as a whole",
     {{"block = 3", "block = 6"}}},
    {"a_register_that_has_no_place_in_the_chain",
     &schmitt_bike,
     {{"SR31", "REAR"}},
     "name register REAR; number registers by their place in the chain"},
    {"more_registers_than_the_firmware_counts", &schmitt_bike, {{"SR31", "SR32"}}, "name register SR32"},
    {"more_registers_than_the_refresh_allows",
     &schmitt_bike,
     {{"shift_hz = 8_000_000", "shift_hz = 249_999"}},
     "248 outputs take 1.98 ms, and they must be shown within 1 ms",
     {{"shift_hz = 8_000_000", "shift_hz = 250_000"}}},
    {"registers_slower_than_the_spi",
     &register_bike,
     {{"shift_hz = 1_000_000", "shift_hz = 100_000"}},
     "the chip's SPI sends no slower than 125000",
     {{"shift_hz = 1_000_000", "shift_hz = 125_000"}}},
    {"registers_without_a_latch",
     &register_bike,
     {{"register_latch", "# register_latch"}},
     "[board] register_latch is missing"},
    {"registers_whose_data_is_not_the_spis",
     &register_bike,
     {{"register_data = \"PB3\"", "register_data = \"D7\""}},
     "register_data is D7, but the chip's SPI data is pin D11 (PB3)"},
    {"registers_whose_latch_is_a_tap",
     &register_bike,
     {{"register_latch = \"A0\"", "register_latch = \"A4\""}},
     "[board] register_latch is A4 (PC4), where tap tail is read"},
    {"registers_whose_enable_lights_lamps",
     &schmitt_bike,
     {{"register_enable = \"D4\"", "register_enable = \"D3\""}},
     "[board] register_enable is D3 (PD3), which lights lamps stop"},
    {"a_tap_that_would_end_the_spis_sending",
     &schmitt_bike,
     {{"\"A0\"", "\"D10\""}, {"register_latch = \"D10\"", "register_latch = \"D2\""}},
     "reads tap left at D10 (PB2); low there ends the SPI's sending",
     {{"\"A0\"", "\"D9\""}, {"register_latch = \"D10\"", "register_latch = \"D2\""}}},
    {"more_groups_than_the_chips_ram_holds",
     &schmitt_bike,
     {{"[front_end]", many_markers(55) + "[front_end]"}},
     "bytes of the chip's RAM for their tables",
     {{"[front_end]", many_markers(25) + "[front_end]"}}},
    {"wires_to_outputs_that_are_not_there",
     &register_bike,
     {{"board SR2.8", "board SR2.9"}},
     "pins of stop and [[wires]] don't agree on board SR2.9"},
    {"stop_lamps_on_registers_that_differ",
     &register_bike,
     {{"name = \"right\"\njob = \"turn\"\nside = \"right\"\ncount = 12\npattern = \"blocks\"\nblock = "
       "3\nstep = \"33ms\"\n",
       "name = \"right\"\njob = \"stop\"\nside = \"right\"\ncount = 12\ndimmed = 100\n"}},
     "the firmware lights all stop lamps on registers alike"},
};

INSTANTIATE_TEST_SUITE_P(Pack, Refuses, ::testing::ValuesIn(refusals),
                         [](const auto& tried) { return tried.param.rule; });

} // namespace
} // namespace winkhold::testing
