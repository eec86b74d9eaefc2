// Single slips in the file of a bike that is ready: none is ready with one, but for those that are harmless
// by nature, which are listed here with the reason.
#include "checklist/ready_bike.hpp"
#include "winkhold/bike/electrics/electrics.hpp"
#include "winkhold/bike/wiring/check.hpp"

#include <algorithm>
#include <set>

namespace winkhold::testing {
namespace {

using host::Verdict;

/// Lines that may go: what holds without them is as good, and the same.
struct Harmless {
    const char* begins;
    const char* section; ///< empty: any
    const char* because;
};
const Harmless harmless[] = {
    {"format = ", "[vehicle]", "a file without it is taken for this one"},
    {"name = ", "[vehicle]", "it goes by the file's name"},
    {"", "[rider]", "no fact of the bike: another ride, and the demo's is judged besides"},
    {"settle = ", "[decoder]", "Winkhold's own default, and the same"},
    {"hold_rule = ", "[decoder]", "Winkhold's own default, and the same"},
    {"clock = ", "[sequence]", "Winkhold's own default, and the same"},
    {"dimmed = 0", "[[lamps]]", "Winkhold's own default, and the same"},
    {"current_ma = ", "[[wires]]", "then it is worked out from lamps, front end and board"},
};

const Harmless* harmless_line(const std::string& section, const std::string& line) {
    const std::string words = line.substr(std::min(line.find_first_not_of(' '), line.size()));
    const auto* const found =
        std::find_if(std::begin(harmless), std::end(harmless), [&](const Harmless& one) {
            return section.rfind(one.section, 0) == 0 && words.rfind(one.begins, 0) == 0;
        });
    return found == std::end(harmless) ? nullptr : found;
}

/// Nothing if no program would read the file.
std::optional<Verdict> verdict_if_read(const std::string& text) {
    try {
        return verdict(text);
    } catch (const host::InputError&) {
        return {};
    }
}

TEST(ReadyWithout, AnyLineOfItsFileIsOpenButForThoseThatAreHarmless) {
    const std::string& text = ready_text();
    const std::size_t end = text.find("\n[[measured]]");
    std::string section;
    int lines = 0;
    std::set<const Harmless*> were_harmless;
    for (std::size_t at = 0; at < end;) {
        const std::size_t next = text.find('\n', at) + 1;
        const std::string line = text.substr(at, next - at - 1);
        if (line[0] == '[') section = line;
        if (!line.empty() && line[0] != '#') {
            ++lines;
            if (verdict_if_read(text.substr(0, at) + text.substr(next)) == Verdict::ready) {
                const Harmless* const one = harmless_line(section, line);
                EXPECT_NE(one, nullptr) << section << " without " << line;
                were_harmless.insert(one);
            }
        }
        at = next;
    }
    EXPECT_GT(lines, 250);
    for (const Harmless& one : harmless)
        EXPECT_TRUE(were_harmless.count(&one))
            << one.section << " " << one.begins << " is not harmless any more";
}

struct Slip {
    const char* name;
    std::string from; ///< stands in the ready file; the first of it is changed
    std::string to;
    std::string after{}; ///< look for it behind this
};

void PrintTo(const Slip& slip, std::ostream* out) {
    *out << slip.name;
}

const std::string front_left = "name = \"front left\"", rear_right = "name = \"rear right\"",
                  stop = "name = \"stop\"", marker = "name = \"marker left\"", taps = "label = [\"TL\"",
                  plus = "label = [\"FL+\"", back = "label = [\"FL1\"", supply = "label = \"B+\"",
                  ground = "label = \"GND\"", low_sides = "label = [\"ST-\"", measured = "\n[[measured]]";

const Slip slips[] = {
    // sides, ends, colours, jobs
    {"left_lamps_on_the_right", "side = \"left\"", "side = \"right\"", front_left},
    {"right_lamps_on_the_left", "side = \"right\"", "side = \"left\"", rear_right},
    {"a_marker_on_the_other_side", "side = \"left\"", "side = \"right\"", marker},
    {"a_stop_lamp_for_one_side", "side = \"both\"", "side = \"left\"", stop},
    {"stop_lamps_at_the_front", "at = \"rear\"", "at = \"front\"", stop},
    {"front_lamps_at_the_rear", "at = \"front\"", "at = \"rear\"", front_left},
    {"red_turn_lamps", "colour = \"amber\"", "colour = \"red\"", front_left},
    {"amber_stop_lamps", "colour = \"red\"", "colour = \"amber\"", stop},
    {"turn_lamps_that_stop", "job = \"turn\"", "job = \"stop\"", front_left},
    {"stop_lamps_that_turn", "job = \"stop\"", "job = \"turn\"", stop},
    {"lamps_named_twice", "name = \"rear left\"", "name = \"rear right\""},
    {"lamps_of_a_name_no_wire_has", "name = \"stop\"", "name = \"brake light\""},
    {"a_left_line_that_is_low_when_lit", "active_left = \"high\"", "active_left = \"low\""},
    {"a_brake_line_that_is_low_when_lit", "active_brake = \"high\"", "active_brake = \"low\""},
    // wires
    {"two_taps_swapped", "\"tap left\", \"tap right\"", "\"tap right\", \"tap left\""},
    {"one_tap_twice", "\"tap brake\", \"tap tail\"", "\"tap brake\", \"tap brake\""},
    {"the_supply_tap_on_the_tail", "\"tap tail\", \"tap supply\"", "\"tap tail\", \"tap tail\""},
    {"two_pins_swapped", "\"pin A0\", \"pin A1\"", "\"pin A1\", \"pin A0\""},
    {"two_outputs_swapped", "\"board SR1.1\", \"board SR1.2\"", "\"board SR1.2\", \"board SR1.1\""},
    {"two_groups_swapped", "\"lamps front left\", \"lamps front right\"",
     "\"lamps front right\", \"lamps front left\"", plus},
    {"the_line_cut", "length_m = 0.6", "length_m = 0.6\ncuts = true", taps},
    {"supply_cut_off", "from = \"battery\"", "from = \"part taped end\"", supply},
    {"ground_cut_off", "to = \"ground\"", "to = \"part taped end\"", ground},
    {"a_lamp_cut_off", "\"board SR1.3\"", "\"part taped end\"", back},
    {"stop_lamps_cut_off", "\"board D9 transistor\"", "\"part taped end\"", low_sides},
    {"plus_cut_off", "from = \"board lamps plus\"", "from = \"part taped end\""},
    {"plus_to_ground", "to = \"board plus\"", "to = \"board minus\"", supply},
    {"no_fuse", "fuse_a = 3 ", "#", supply},
    {"a_fuse_ten_times_larger", "fuse_a = 3 ", "fuse_a = 30 ", supply},
    {"a_fuse_too_small", "fuse_a = 3 ", "fuse_a = 1 ", supply},
    {"taps_without_fuses", "fuse_a = 0.5", "", taps},
    {"a_thin_supply_wire", "awg = 18", "awg = 28", supply},
    {"a_long_ground_wire", "length_m = 0.8", "length_m = 8", ground},
    {"a_cavity_twice", "cavity = [\"1\", \"2\",", "cavity = [\"1\", \"1\",", taps},
    {"a_label_twice", "label = \"GND\"", "label = \"B+\""},
    // numbers
    {"a_flasher_twice_as_fast", "rate_per_min = 85", "rate_per_min = 170"},
    {"a_flasher_half_as_fast", "rate_per_min = 85", "rate_per_min = 42"},
    {"a_flasher_lit_too_long", "duty_percent = 50", "duty_percent = 95"},
    {"a_late_first_light", "start_delay = \"0ms\"", "start_delay = \"1200ms\""},
    {"contacts_that_bounce_for_long", "bounce = \"3ms\"", "bounce = \"60ms\""},
    {"lines_far_apart", "rise_skew = [\"0ms\", \"4ms\"]", "rise_skew = [\"0ms\", \"200ms\"]"},
    {"twice_the_step", "step = \"30ms\"", "step = \"60ms\""},
    {"twice_the_lamps", "count = 6", "count = 12", front_left},
    {"twice_the_current", "led_ma = 20", "led_ma = 40", front_left},
    {"twice_the_leds_in_series", "in_series = 3", "in_series = 6", stop},
    {"a_tail_as_bright_as_the_stop", "dimmed = 40", "dimmed = 200", stop},
    {"a_wide_gap", "gap_mm = 4", "gap_mm = 80", front_left},
    {"edges_that_do_not_fit_the_height", "low_edge_mm = 640", "low_edge_mm = 320", front_left},
    {"twice_the_bottom_resistor", "bottom_kohm = 47", "bottom_kohm = 94"},
    {"ten_times_the_capacitor", "capacitor_nf = 22", "capacitor_nf = 2200"},
    {"ten_times_the_bleeder", "bleeder_ohm = 680", "bleeder_ohm = 6800"},
    {"a_tenth_of_the_wet_resistance", "wet_kohm = 20", "wet_kohm = 2"},
    {"a_regulator_that_stands_half", "regulator_most_v = 40", "regulator_most_v = 20"},
    {"a_suppressor_of_twice_the_volts", "tvs_v = 36", "tvs_v = 72"},
    {"a_board_that_takes_ten_times", "board_ma = 25", "board_ma = 250"},
    {"a_settle_too_long_for_the_brake", "settle = \"5ms\"", "settle = \"25ms\""},
    {"half_the_lamps_the_flasher_needs", "kept_w = 21", "kept_w = 10"},
    {"pins_that_carry_a_tenth", "transistor_ma = 1000", "transistor_ma = 100"},
    {"a_battery_a_hundredth_as_large", "capacity_ah = 8", "capacity_ah = 0.08"},
    // empty words
    {"a_wire_of_no_colour", "colour = \"black\"", "colour = \"\""},
    {"one_wire_of_no_colour", "colour = [\"green\", \"blue\"", "colour = [\"green\", \"\""},
    {"a_plug_without_a_place", "cavity = [\"1\", \"2\",", "cavity = [\"1\", \"\",", taps},
    {"a_place_without_a_plug", "connector = \"J1\"", "connector = \"\""},
    {"a_pilot_kept_for_no_reason", "why = \"shows the rider that this side flashes\"", "why = \"\""},
    {"resistors_that_are_exact", "resistor_percent = 1", "resistor_percent = 0"},
    // what is said
    {"another_place", "place = \"un-ece\"", "place = \"atlantis\""},
    {"no_place", "place = \"un-ece\"", "place = \"\""},
    {"a_pilot_unplugged", "line = \"left\"\nwhy", "line = \"left\"\nconnected = false\nwhy"},
    {"one_pilot_fewer", "line = \"right\"\nwhy", "line = \"left\"\nwhy"},
    {"a_day_to_come", "on = \"2026-03-14\"", "on = \"2126-03-14\"", measured},
    {"nobody_says_with_what", "with = \"meter and eyes\"\n", "", measured},
    {"nobody_says_when", "on = \"2026-03-14\"\n", "", measured},
    {"a_water_of_no_name", "note = \"as it ought to be\"", "", "what = \"wet-water\""},
    {"not_done", "done = true", "done = false", measured},
    {"an_entry_of_the_example", "what = \"look-colour\"", "what = \"look-colour\"\nexample = true"},
    {"an_entry_for_no_point", "what = \"look-colour\"", "what = \"look-colours\""},
};

class Slipped : public ::testing::TestWithParam<Slip> {};

TEST_P(Slipped, IsNotReady) {
    const std::string text = ready_with(GetParam().from, GetParam().to, GetParam().after);
    EXPECT_NE(verdict_if_read(text), Verdict::ready);
}

/// What one of the commands finds in the same file, the checklist finds.
TEST_P(Slipped, IsNotMerelyOpenIfElectricsOrWiringFindSomething) {
    const Scratch scratch;
    const std::string path =
        scratch.write("bike.toml", ready_with(GetParam().from, GetParam().to, GetParam().after));
    bool is_found = false;
    try {
        const host::Vehicle vehicle = host::Vehicle::read(path);
        is_found =
            host::judge_electrics(vehicle).has_findings() || !host::wiring_sheet_of(vehicle).findings.empty();
        EXPECT_TRUE(!is_found ||
                    host::checklist_of(vehicle, "winkhold 0.0.0").readiness.verdict() == Verdict::not_ready);
    } catch (const host::InputError&) {
        SUCCEED() << "no command reads it";
    }
}

INSTANTIATE_TEST_SUITE_P(ReadyBike, Slipped, ::testing::ValuesIn(slips),
                         [](const auto& info) { return std::string(info.param.name); });

TEST(Slips, AreManyAndEachChangesTheFile) {
    EXPECT_GE(std::size(slips), 60u);
    for (const Slip& slip : slips)
        EXPECT_NE(ready_with(slip.from, slip.to, slip.after), ready_text()) << slip.name;
}

} // namespace
} // namespace winkhold::testing
