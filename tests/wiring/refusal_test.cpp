// Each bad input: one message that begins with file and line, exit 2, nothing on standard output.
#include "wiring/bike.hpp"

#include <algorithm>

namespace winkhold::testing {
namespace {

struct Refusal {
    std::string name;
    std::string text;    ///< of the vehicle file
    std::string command; ///< wiring or checklist
    std::string says;    ///< what stands after the file's name
};

void PrintTo(const Refusal& refusal, std::ostream* out) {
    *out << refusal.name;
}

class Refuses : public ::testing::TestWithParam<Refusal> {};

TEST_P(Refuses, WithFileAndLineAndExitTwo) {
    const Refusal& refusal = GetParam();
    const Scratch scratch;
    const std::string file = scratch.write("bike.toml", refusal.text);
    const Ran ran = scratch.run(refusal.command + " " + file);
    EXPECT_EQ(ran.exit_code, 2) << ran.err;
    EXPECT_EQ(ran.out, "");
    EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << ran.err;
    EXPECT_EQ(ran.err.rfind("winkhold: " + file + refusal.says, 0), 0u) << ran.err;
}

const std::string wire = "[[wires]]\nfrom = \"battery\"\nto = \"board\"\n";
const std::string measured = "[[measured]]\nwhat = \"side-change\"\n";

const Refusal refusals[] = {
    {"no_wires", "[vehicle]\n", "wiring", ": no [[wires]]"},
    {"wires_as_one_section", "[wires]\nfrom = \"battery\"\n", "wiring", ":1: write each as [[wires]]"},
    {"an_unknown_field", wire + "gauge = 18\n", "wiring", ":4: [wires] gauge: unknown field"},
    {"an_end_left_out", "[[wires]]\nfrom = \"battery\"\n", "wiring", ":1: [wires] to: missing"},
    {"an_end_of_no_kind", "[[wires]]\nfrom = \"plug 3\"\nto = \"board\"\n", "wiring",
     ":2: [wires] from: \"plug 3\": begin with what it is"},
    {"a_pin_without_its_name", "[[wires]]\nfrom = \"pin\"\nto = \"board\"\n", "wiring",
     ":2: [wires] from: \"pin\": say which"},
    {"a_tap_of_no_line", "[[wires]]\nfrom = \"tap horn\"\nto = \"pin A0\"\n", "wiring",
     ":2: [wires] from: \"tap horn\": a tap is one of"},
    {"lists_of_two_lengths", wire + "label = [\"a\", \"b\"]\ncavity = [\"1\"]\n", "wiring",
     ":5: [wires] cavity: a list of 1, but another list of this table has 2"},
    {"a_list_of_numbers_of_another_length", wire + "label = [\"a\", \"b\"]\nlength_m = [1, 2, 3]\n", "wiring",
     ":5: [wires] length_m: a list of 3, but another list of this table has 2"},
    {"an_empty_list", wire + "label = []\n", "wiring", ":4: [wires] label: the list is empty"},
    {"a_label_that_is_a_number", wire + "label = 7\n", "wiring", ":4: [wires] label: write text in quotes"},
    {"a_list_with_a_text_among_numbers", wire + "length_m = [1, \"2\"]\n", "wiring",
     ":4: [wires] length_m: \"2\" is text; write a number"},
    {"a_gauge_with_a_fraction", wire + "awg = 18.5\n", "wiring", ":4: [wires] awg: write a whole number"},
    {"a_length_below_zero", wire + "length_m = -1\n", "wiring", ":4: [wires] length_m: -1 is out of range"},
    {"a_fuse_of_nothing", wire + "fuse_a = 0\n", "wiring", ":4: [wires] fuse_a: 0 is out of range"},
    {"a_current_that_is_no_number", wire + "current_ma = nan\n", "wiring",
     ":4: [wires] current_ma: write a number"},
    {"a_cut_in_words", wire + "cuts = \"yes\"\n", "wiring", ":4: [wires] cuts"},
    {"a_kept_part_without_a_name", wire + "[[keep]]\nkind = \"module\"\n", "wiring",
     ":4: [keep] name: missing"},
    {"a_kept_part_of_no_kind", wire + "[[keep]]\nname = \"a\"\nkind = \"lamp\"\n", "wiring",
     ":6: [keep] kind: write one of"},
    {"a_kept_part_on_no_line", wire + "[[keep]]\nname = \"a\"\nline = \"horn\"\n", "wiring",
     ":6: [keep] line: write one of"},
    {"a_measurement_of_nothing", "[[measured]]\nvalue = 1\n", "checklist", ":1: [measured] what: missing"},
    {"a_measurement_without_its_value", measured, "checklist", ":1: [measured] value: write either value"},
    {"a_measurement_with_value_and_done", measured + "value = 1\ndone = true\n", "checklist",
     ":1: [measured] value: write either value"},
    {"a_number_for_yes_or_no", measured + "value = 1\n", "checklist",
     ":1: [measured] side-change: is a point of yes or no"},
    {"yes_for_a_number", "[[measured]]\nwhat = \"left-rate-per-min\"\ndone = true\n", "checklist",
     ":1: [measured] left-rate-per-min: is measured; write value = a number, in /min"},
    {"a_line_that_is_no_text", "[[keep]]\nname = \"pilot\"\nline = 5\n", "checklist",
     ":3: [keep] line: write text in quotes"},
    {"another_unit", "[[measured]]\nwhat = \"left-rate-per-min\"\nvalue = 1.4\nunit = \"Hz\"\n", "checklist",
     ":1: [measured] left-rate-per-min: unit = \"Hz\": the value must be in /min"},
    {"own_limits_for_a_point_that_has_some",
     "[[measured]]\nwhat = \"power-ground-drop-v\"\nvalue = 150\nmost = 200\n", "checklist",
     ":1: [measured] power-ground-drop-v: least and most: this point has its own limit"},
    {"limits_the_wrong_way_round", "[[measured]]\nwhat = \"x\"\nvalue = 1\nleast = 3\nmost = 2\n",
     "checklist", ":4: [measured] least: is above most"},
    {"an_infinite_value", "[[measured]]\nwhat = \"x\"\nvalue = inf\nmost = 2\n", "checklist",
     ":3: [measured] value: write a number"},
    {"the_same_point_twice", measured + "done = false\n" + measured + "done = true\n", "checklist",
     ":5: [measured] what: \"side-change\" is measured twice"},
    {"a_broken_section_of_the_electrics", wire + "[board]\npin_ma = \"much\"\n", "checklist",
     ":5: [board] pin_ma"},
};

INSTANTIATE_TEST_SUITE_P(Wiring, Refuses, ::testing::ValuesIn(refusals),
                         [](const auto& info) { return info.param.name; });

} // namespace
} // namespace winkhold::testing
