// Each bad input: one clear message, exit 2, nothing on standard output.
#include "program/run.hpp"

#include <algorithm>

namespace winkhold::testing {
namespace {

struct Refusal {
    std::string name;
    std::string file; ///< name of the file to write; none if empty
    std::string content;
    std::string arguments; ///< FILE stands for the file's path
    std::string says;      ///< part of the message
};

std::string with_path(std::string text, const std::string& path) {
    for (std::size_t at; (at = text.find("FILE")) != std::string::npos;)
        text.replace(at, 4, path);
    return text;
}

class Refuses : public ::testing::TestWithParam<Refusal> {};

TEST_P(Refuses, WithOneClearMessageAndExitTwo) {
    const Refusal& refusal = GetParam();
    const Scratch scratch;
    std::string path = scratch.path("absent.csv");
    if (!refusal.file.empty()) path = scratch.write(refusal.file, refusal.content);
    const Ran ran = scratch.run(with_path(refusal.arguments, path));
    EXPECT_EQ(ran.exit_code, 2) << ran.err;
    EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << ran.err;
    EXPECT_EQ(ran.err.rfind("winkhold: ", 0), 0u) << ran.err;
    EXPECT_NE(ran.err.find(with_path(refusal.says, path)), std::string::npos) << ran.err;
}

const std::string rows = "time_us,left,right\n0,0,0\n";
const std::string nominal = "sweep data/scenarios/nominal.toml --trials 10 ";
const std::string scenario_head = "[rider]\nscript = [{ show = \"left\", flashes = 5 }]\n";

const Refusal refusals[] = {
    {"missing_file", "", "", "decode FILE", "FILE"},
    {"directory", "", "", "decode data", "data"},
    {"empty_file", "a.csv", "", "decode FILE", "empty"},
    {"header_only", "a.csv", "time_us,left,right\n", "decode FILE", "FILE"},
    {"unknown_column", "a.csv", "time_us,red,green\n0,0,0\n", "decode FILE --left red --right blue", "green"},
    {"short_row", "a.csv", rows + "10,1\n", "decode FILE", "FILE:3"},
    {"level_neither_0_nor_1", "a.csv", rows + "10,2,0\n", "decode FILE", "FILE:3"},
    {"negative_time", "a.csv", rows + "-10,1,0\n", "decode FILE", "FILE:3"},
    {"time_going_backwards", "a.csv", rows + "10,1,0\n5,0,0\n", "decode FILE", "FILE:4"},
    {"nan_time", "a.csv", rows + "nan,1,0\n", "decode FILE", "FILE:3"},
    {"nan_volts", "a.csv", "time_us,left_v,right_v\n0,nan,0\n", "decode FILE", "FILE:2"},
    {"number_out_of_range", "a.csv", rows + "99999999999999999999999,1,0\n", "decode FILE", "FILE:3"},
    {"truncated_vcd", "a.vcd", "$timescale 1 us $end\n$scope module m $end\n$var wire 1 ! left",
     "decode FILE", "FILE"},
    {"binary_rubbish", "a.csv",
     std::string("\x7f"
                 "ELF\0\1\2\3\xff\xfe",
                 10),
     "decode FILE", "FILE"},
    {"both_sides_none", "a.csv", rows, "decode FILE --left none --right none", "none"},
    {"hold_below_settle", "a.csv", rows, "decode FILE --settle 20ms --hold 10ms", "below settle"},
    {"hold_below_pwm_gap", "a.csv", rows, "decode FILE --pwm-gap 20ms --hold 10ms", "below the PWM gap"},
    {"hold_without_unit", "a.csv", rows, "decode FILE --hold 400", "unit is missing"},
    {"hold_as_grid_in_decode", "a.csv", rows, "decode FILE --hold 1ms:5ms:1ms", "--hold"},
    {"unknown_rule", "a.csv", rows, "decode FILE --hold-rule best", "fixed or paced"},
    {"unknown_option", "a.csv", rows, "decode FILE --holt 40ms", "--holt"},
    {"volts_in_words", "a.csv", rows, "decode FILE --on-above high", "--on-above"},
    {"rate_without_unit", "a.raw", "abc", "decode FILE --rate 1000", "like 44100Hz or 1MHz"},
    {"rate_of_a_text", "a.csv", rows, "decode FILE --rate 1kHz", "leave --rate out"},
    {"change_without_percent", "a.csv", rows, "decode FILE --change 0.5", "like 25%"},
    {"decimal_comma_among_commas", "a.csv", rows, "decode FILE --decimal-comma", "semicolons"},
    {"decimal_point_among_commas", "a.csv", "time_ms;left;right\n0,5;0;0\n1.5;1;0\n", "decode FILE",
     "FILE:3: \"time_ms\" is \"1.5\""},
    {"torn_recorder_log", "a.log", "# winkhold recorder 1 tick_us=4\n0 00\n1000", "decode FILE", "FILE:3"},
    {"torn_wav", "a.wav", "RIFF1234WAVEfmt ", "decode FILE", "FILE: can't be read as a WAV file"},
    {"out_of_no_format", "a.csv", rows, "decode FILE --out FILE.txt", ".vcd or .csv"},
    {"out_over_the_recording", "a.csv", rows, "decode FILE --out FILE --force", "is what is being read"},
    {"scenario_that_is_a_device", "", "", "simulate /dev/zero", "is a device"},
    {"scenario_that_is_huge", "a.toml", std::string(2'000'000, '\n'), "simulate FILE", "larger than 1 MiB"},
    {"no_subcommand", "", "", "", "subcommand"},
    {"unknown_toml_field", "a.toml", "[flasher]\nrate_per_minute = 80\n" + scenario_head, "sweep FILE",
     "FILE:2: [flasher] rate_per_minute: unknown field"},
    {"unknown_toml_section", "a.toml", "[flashing]\nrate_per_min = 80\n" + scenario_head, "sweep FILE",
     "flashing"},
    {"toml_value_out_of_range", "a.toml", "[flasher]\nrate_per_min = 5\n" + scenario_head, "sweep FILE",
     "FILE:2"},
    {"toml_wrong_type", "a.toml", "[flasher]\nrate_per_min = \"fast\"\n" + scenario_head, "sweep FILE",
     "FILE:2"},
    {"toml_nan", "a.toml", "[flasher]\nrate_per_min = nan\n" + scenario_head, "sweep FILE", "FILE:2"},
    {"toml_bad_syntax", "a.toml", "[flasher\n", "simulate FILE", "FILE:1"},
    {"toml_word_cut_off", "a.toml", "[decoder]\nspread = tru\n",
     "decode data/recordings/left_flash.csv --settings FILE", "FILE:2: not valid TOML"},
    {"toml_name_with_a_newline", "a.toml", "[decoder]\n\"a\\nb\" = 1\n",
     "decode data/recordings/left_flash.csv --settings FILE", "a?b: unknown field"},
    {"toml_without_script", "a.toml", "[flasher]\nrate_per_min = 80\n", "simulate FILE", "script"},
    {"toml_circle", "a.toml", "[vehicle]\nfile = \"a.toml\"\n" + scenario_head, "simulate FILE", "circle"},
    {"toml_bad_decoder", "a.toml", "[decoder]\nsettle = \"20ms\"\nhold = \"10ms\"\n" + scenario_head,
     "sweep FILE", "below settle"},
    {"settings_without_decoder", "a.toml", scenario_head,
     "decode data/recordings/left_flash.csv --settings FILE", "[decoder]"},
    {"brake_pressed_while_pressed", "a.toml",
     scenario_head + "brake = [{ from = \"1s\", for = \"2s\" }, { from = \"2s\", for = \"1s\" }]\n",
     "simulate FILE", "FILE:3: [rider.brake] from: before the press above has ended"},
    {"brake_pressed_for_no_time", "a.toml", scenario_head + "brake = [{ from = \"1s\" }]\n", "simulate FILE",
     "FILE:3: [rider.brake] for: missing"},
    {"two_input_stages", "a.toml", "[volts]\nclamp = 5\n[front_end]\ntop_kohm = 100\n" + scenario_head,
     "simulate FILE", "FILE:2: [front_end] clamp: the input stage stands in [front_end] already"},
    {"front_end_that_is_not_known", "a.toml", "[front_end]\ntop_kohm = 100\n" + scenario_head,
     "simulate FILE", "FILE:1: [front_end] can't be simulated"},
    {"missing_scenario", "", "", "sweep absent.toml", "no such file"},
    {"grid_with_zero_step", "", "", nominal + "--hold 100ms:900ms:0ms", "step is zero"},
    {"grid_backwards", "", "", nominal + "--hold 900ms:100ms:20ms", "ends before it starts"},
    {"grid_of_two", "", "", nominal + "--hold 100ms:900ms", "not three times"},
    {"grid_below_settle", "", "", nominal + "--settle 10ms --hold 5ms:900ms:20ms", "below 10 ms"},
    {"grid_beyond_the_range", "", "", nominal + "--hold 100ms:6s:100ms", "longest is 5 s"},
    {"hold_grid_under_paced", "", "", nominal + "--hold-rule paced --hold 100ms:900ms:20ms", "--guard"},
    {"no_trials", "", "", "sweep data/scenarios/nominal.toml --trials 0",
     "--trials 0: write a whole number from 1"},
    {"negative_trials", "", "", "sweep data/scenarios/nominal.toml --trials -5",
     "--trials -5: write a whole number from 1"},
    {"target_of_zero", "", "", nominal + "--target 0", "--target"},
    {"no_threads", "", "", nominal + "--threads 0", "--threads"},
    {"limits_of_no_place", "a.csv", rows, "limits FILE --place mars", "known: european-union (motorcycle"},
    {"limits_of_no_kind", "a.csv", rows, "limits FILE --kind sledge", "known: european-union (motorcycle"},
    {"limits_of_no_condition", "a.csv", rows, "limits FILE --if rain",
     "--if rain: no limit asks for that; known"},
    {"limits_of_no_file", "", "", "limits FILE", "FILE"},
    {"limits_place_in_the_vehicle", "a.toml", "[vehicle]\nplace = \"mars\"\n" + scenario_head, "limits FILE",
     "no limits for place \"mars\""},
    {"limits_vehicle_without_a_lamps_name", "a.toml", "[[lamps]]\njob = \"turn\"\n",
     "limits data/recordings/left_flash.csv --vehicle FILE", "FILE:1: [lamps] name: missing"},
    {"limits_truth_of_a_scenario", "", "", "limits data/scenarios/nominal.toml --truth a.csv",
     "belongs to a recording"},
    {"limits_truth_out_of_order", "a.csv", "time_us,indication\n5,left\n4,off\n",
     "limits data/recordings/left_flash.csv --truth FILE", "FILE:3: times must rise"},
    {"limits_folder_that_is_none", "", "", "limits data/scenarios/nominal.toml --limits-folder /nowhere",
     "/nowhere: no such file"},
    {"limits_folder_of_a_vehicle", "", "", "limits data/scenarios/nominal.toml --limits-folder data/vehicles",
     "[place] name: missing"},
    {"limits_without_trials", "", "", "limits data/scenarios/nominal.toml --trials 0", "--trials"},
    {"unwritable_output", "", "", "simulate data/scenarios/nominal.toml --out /nowhere/at/all.csv",
     "can't be written"},
};

INSTANTIATE_TEST_SUITE_P(Program, Refuses, ::testing::ValuesIn(refusals),
                         [](const auto& info) { return info.param.name; });

} // namespace
} // namespace winkhold::testing
