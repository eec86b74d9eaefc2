// Single slips in an own vehicle file, such as people make with a soldering iron or an editor: each is found,
// warned of or not judged by name, and none passes in silence.
#include "winkhold/bike/wiring/check.hpp"
#include "wiring/bike.hpp"

namespace winkhold::testing {
namespace {

struct Slip {
    std::string name;
    std::string from; ///< stands in the demo vehicle's file; the first of it is changed
    std::string to;
    std::string after{}; ///< look for it behind this
};

std::string demo_text() {
    std::ifstream file(WINKHOLD_DATA "/vehicles/demo.toml", std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::string with(const Slip& slip) {
    std::string text = demo_text();
    const std::size_t from = slip.after.empty() ? 0 : text.find(slip.after);
    const std::size_t at = from == text.npos ? text.npos : text.find(slip.from, from);
    if (at == text.npos)
        throw std::logic_error(slip.name + ": \"" + slip.from + "\" is not in the demo's file");
    return text.replace(at, slip.from.size(), slip.to);
}

const std::string fl_outputs = "\"board SR1.1\", \"board SR1.2\"";
const std::string last_right = "name = \"rear right\"";
const std::string supply_wire = "label = \"B+\"";
const std::string ground_wire = "label = \"GND\"";
const std::string tap_wires = "label = [\"TL\"";
const std::string plus_wires = "label = [\"FL+\"";
const std::string back_wires = "label = [\"FL1\"";
const std::string stop_wires = "label = [\"ST-\"";

const Slip slips[] = {
    // wires
    {"two_taps_swapped", "\"tap left\", \"tap right\"", "\"tap right\", \"tap left\""},
    {"brake_and_tail_swapped", "\"tap brake\", \"tap tail\"", "\"tap tail\", \"tap brake\""},
    {"two_pins_swapped", "\"pin A0\", \"pin A1\"", "\"pin A1\", \"pin A0\""},
    {"one_tap_twice", "\"tap left\", \"tap right\"", "\"tap left\", \"tap left\""},
    {"one_pin_twice", "\"pin A0\", \"pin A1\"", "\"pin A0\", \"pin A0\""},
    {"a_tap_to_a_free_pin", "\"pin A2\"", "\"pin A7\""},
    {"a_tap_to_a_lamps_pin", "\"pin A2\"", "\"pin D9\""},
    {"a_tap_to_ground", "\"pin A0\"", "\"ground\"", tap_wires},
    {"a_tap_to_battery", "\"pin A0\"", "\"battery\"", tap_wires},
    {"a_tap_left_loose", "\"pin A1\"", "\"part taped end\"", tap_wires},
    {"no_supply_wire", "from = \"battery\"\nto = \"board plus\"", "from = \"battery\"\nto = \"part spare\""},
    {"supply_by_a_relay", "from = \"battery\"", "from = \"part relay\""},
    {"supply_without_a_fuse", "fuse_a = 3  ", "#", supply_wire},
    {"a_fuse_ten_times_larger", "fuse_a = 3 ", "fuse_a = 30 ", supply_wire},
    {"a_fuse_too_small", "fuse_a = 3 ", "fuse_a = 1 ", supply_wire},
    {"supply_to_minus", "to = \"board plus\"", "to = \"board minus\""},
    {"ground_to_battery", "to = \"ground\"", "to = \"battery\""},
    {"no_ground_wire", "from = \"board minus\"", "from = \"part frame\""},
    {"a_thin_ground", "awg = 18", "awg = 30", ground_wire},
    {"a_long_ground", "length_m = 0.8", "length_m = 8", ground_wire},
    {"tap_fuse_too_large", "fuse_a = 0.5", "fuse_a = 5"},
    {"tap_current_wrong", "current_ma = 24", "current_ma = 1"},
    {"plus_to_another_side", "\"lamps front left\", \"lamps front right\"",
     "\"lamps front right\", \"lamps front left\"", plus_wires},
    {"plus_to_another_end", "\"lamps front left\", \"lamps front right\", \"lamps rear left\"",
     "\"lamps rear left\", \"lamps front right\", \"lamps front left\"", plus_wires},
    {"plus_from_ground", "from = \"board lamps plus\"", "from = \"ground\""},
    {"a_plus_left_out", "\"lamps front left\", \"lamps front right\"",
     "\"part spare\", \"lamps front right\"", plus_wires},
    {"plus_current_of_one_lamp", "[150, 150", "[15, 150"},
    {"plus_of_another_length", "[0.9, 0.9, 1.4", "[9, 0.9, 1.4", plus_wires},
    {"plus_of_lamps_taken_for_each_other", "\"lamps rear left\", \"lamps rear right\", \"lamps stop\"",
     "\"lamps stop\", \"lamps rear right\", \"lamps rear left\"", plus_wires},
    {"labels_taken_for_each_other", "\"ST-\", \"ML-\", \"MR-\"", "\"MR-\", \"ML-\", \"ST-\""},
    {"lengths_left_out", "length_m = [0.9, 0.9", "# [0.9, 0.9"},
    {"group_length_left_out", "length_m = 1.4", "#", last_right},
    {"group_gauge_left_out", "awg = 22", "#", last_right},
    {"two_labels_alike", "\"RL+\"", "\"FL+\""},
    {"no_label", "\"RL+\"", "\"\""},
    {"a_group_misspelt", "\"lamps marker left\"", "\"lamps marker lift\"", plus_wires},
    {"two_returns_swapped", fl_outputs, "\"board SR1.2\", \"board SR1.1\""},
    {"two_returns_on_one_output", fl_outputs, "\"board SR1.1\", \"board SR1.1\""},
    {"an_output_of_the_other_side", "\"board SR1.6\"", "\"board SR2.6\""},
    {"an_output_that_is_not_there", "\"board SR1.6\"", "\"board SR1.9\""},
    {"a_register_that_is_not_there", "\"board SR1.6\"", "\"board SR5.6\""},
    {"a_terminal_of_no_kind", "\"board SR1.6\"", "\"board Q9\""},
    {"a_return_on_ground", "\"board SR1.6\"", "\"ground\""},
    {"a_return_on_battery", "\"board SR1.6\"", "\"battery\""},
    {"a_return_on_a_tap", "\"board SR1.6\"", "\"tap left\""},
    {"a_return_on_a_pin", "\"board SR1.6\"", "\"pin D2\""},
    {"a_return_by_a_splice_to_another", "\"board SR1.6\"", "\"lamps rear left\""},
    {"a_return_left_loose", "\"board SR1.6\"", "\"part spare\""},
    {"a_return_to_another_group", "\"lamps front left\", \"lamps front left\"",
     "\"lamps front left\", \"lamps front right\"", back_wires},
    {"two_in_one_cavity", "\"1\", \"2\", \"3\"", "\"1\", \"1\", \"3\"", back_wires},
    {"another_transistor", "\"board D5 transistor\"", "\"board D6 transistor\""},
    {"two_transistors_swapped", "\"board D5 transistor\", \"board D6 transistor\"",
     "\"board D6 transistor\", \"board D5 transistor\""},
    {"straight_to_the_pin", "\"board D9 transistor\"", "\"pin D9\"", stop_wires},
    {"stop_on_ground", "\"board D9 transistor\"", "\"ground\"", stop_wires},
    {"return_gauge", "awg = 22", "awg = 24", stop_wires},
    {"return_current", "[160, 130, 130]", "[16, 130, 130]", stop_wires},
    {"a_cut_line", "connector = \"J2\"", "cuts = true\nconnector = \"J2\""},
    // lamps
    {"side_wrong", "side = \"right\"", "side = \"left\"", last_right},
    {"side_both", "side = \"right\"", "side = \"both\"", last_right},
    {"place_wrong", "at = \"rear\"", "at = \"front\"", last_right},
    {"name_wrong", "name = \"rear right\"", "name = \"rear left 2\""},
    {"one_lamp_less", "count = 6", "count = 5", last_right},
    {"one_lamp_more", "count = 6", "count = 7", last_right},
    {"another_colour", "colour = \"amber\"", "colour = \"red\"", last_right},
    {"led_current_a_tenth", "led_ma = 20", "led_ma = 2", last_right},
    {"led_voltage", "led_v = 2.1", "led_v = 3.1", last_right},
    {"strings_of_three", "in_series = 1", "in_series = 3", last_right},
    {"another_step", "step = \"30ms\"", "step = \"60ms\"", last_right},
    {"another_pattern", "pattern = \"outward\"\nstep = \"30ms\"", "pattern = \"together\"", last_right},
    {"driver_pin", "driver = \"shift-register\"", "driver = \"pin\"", last_right},
    {"driver_transistor", "driver = \"shift-register\"", "driver = \"transistor\"", last_right},
    {"stop_driver_pin", "driver = \"transistor\"", "driver = \"pin\"", "name = \"stop\""},
    {"pins_of_another", "pins = [\"SR4\"]", "pins = [\"SR3\"]", last_right},
    {"pins_left_out", "pins = [\"SR4\"]\n", "", last_right},
    {"driver_left_out", "driver = \"shift-register\"\n", "", last_right},
    {"led_current_left_out", "led_ma = 20\n", "", last_right},
    {"group_length", "length_m = 1.4", "length_m = 4.1", last_right},
    {"group_gauge", "awg = 22", "awg = 24", last_right},
    {"job_marker",
     "job = \"turn\"\nside = \"right\"\nat = \"rear\"\ncount = 6\npattern = \"outward\"\nstep = \"30ms\"",
     "job = \"marker\"\nside = \"right\"\nat = \"rear\"\ncount = 6", last_right},
    {"stop_on_one_side", "side = \"both\"", "side = \"left\"", "name = \"stop\""},
    {"stop_in_front", "at = \"rear\"", "at = \"front\"", "name = \"stop\""},
    // board and kept parts
    {"another_register", "register = \"power\"", "register = \"logic\""},
    {"fewer_outputs", "register_outputs = 8", "register_outputs = 4"},
    {"outputs_left_out", "register_outputs = 8", "#"},
    {"tap_pins_swapped", "[\"A0\", \"A1\", \"A2\"", "[\"A1\", \"A0\", \"A2\""},
    {"tap_pins_left_out", "tap_pins = ", "# "},
    {"a_tell_tale_left_out", "kind = \"tell-tale\"", "kind = \"module\"", "name = \"left pilot\""},
    {"a_tell_tale_of_the_other_line", "line = \"left\"", "line = \"right\"", "name = \"left pilot\""},
    {"another_bleeder", "bleeder_ohm = 680", "bleeder_ohm = 68"},
};

TEST(Mutations, TheUntouchedVehicleIsClean) {
    const Scratch scratch;
    const auto sheet = host::wiring_sheet_of(host::Vehicle::read(scratch.write("a.toml", demo_text())));
    for (const auto* list : {&sheet.findings, &sheet.warnings})
        for (const auto& finding : *list)
            ADD_FAILURE() << name(finding.kind) << ": " << finding.text;
    EXPECT_EQ(sheet.not_judged, std::vector<std::string>{});
}

TEST(Mutations, NoneOfThemPassesInSilence) {
    ASSERT_GE(std::size(slips), 20u);
    const Scratch scratch;
    std::string missed;
    for (const Slip& slip : slips) {
        const host::Vehicle vehicle = host::Vehicle::read(scratch.write("a.toml", with(slip)));
        host::WiringSheet sheet;
        try {
            sheet = host::wiring_sheet_of(vehicle);
        } catch (const host::InputError&) {
            continue; // refused, with file and line
        }
        if (sheet.findings.empty() && sheet.warnings.empty() && sheet.not_judged.empty())
            missed += "\n    " + slip.name;
    }
    EXPECT_EQ(missed, "") << "these pass:" << missed;
}

} // namespace
} // namespace winkhold::testing
