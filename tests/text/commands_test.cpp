// What every command prints for people is at most 80 characters wide.
#include "program/run.hpp"
#include "text/lines.hpp"

namespace winkhold::testing {
namespace {

/// `{}` stands for a file named by the test.
struct Command {
    const char* name;
    const char* arguments;
    const char* file{""};
};

class EveryCommand : public ::testing::TestWithParam<Command> {};

std::string with_file(std::string arguments, const std::string& file) {
    const std::size_t at = arguments.find("{}");
    return at == std::string::npos ? arguments : arguments.replace(at, 2, file);
}

TEST_P(EveryCommand, PrintsNothingWiderThan80Characters) {
    const Scratch scratch;
    const Ran ran =
        scratch.run(with_file(GetParam().arguments, scratch.write("vehicle.toml", GetParam().file)));
    EXPECT_LT(ran.exit_code, 2) << ran.err;
    EXPECT_FALSE(ran.out.empty());
    EXPECT_EQ(too_wide(ran.out), std::vector<std::string>{});
}

/// Names and colours longer than any column, and characters of several bytes.
constexpr const char* long_names = R"([vehicle]
name = "Überlange Bezeichnung eines Fahrzeugs, wie sie auf einem Typenschild niemals Platz fände, mit Beiwagen"

[[lamps]]
name = "vorne links außen am Lenkerende"
job = "turn"
side = "left"
count = 12
pattern = "outward"
step = "15ms"

[[lamps]]
name = "Blinkleuchtenbefestigungsschraubenabdeckkappenrückseite"
job = "turn"
side = "right"
count = 3

[[wires]]
label = "Kennzeichen-eines-Drahtes-ohne-jeden-Zwischenraum"
colour = "grün mit gelbem und blauem Ring"
from = "battery"
to = "board plus"
awg = 18
length_m = 1.25
fuse_a = 2
current_ma = 1500
connector = "Stecker-unter-dem-Sitz-neben-der-Batterie"
cavity = "1"
)";

constexpr Command commands[] = {
    {"wiring", "wiring data/vehicles/demo.toml"},
    {"wiring_of_long_names", "wiring {}", long_names},
    {"electrics", "electrics data/vehicles/demo.toml"},
    {"electrics_of_long_names", "electrics {}", long_names},
    {"checklist", "checklist data/vehicles/demo.toml"},
    {"checklist_as_measured", "checklist data/vehicles/demo-measured.toml"},
    {"checklist_of_long_names", "checklist {}", long_names},
    {"checklist_to_work_on", "checklist data/vehicles/demo-measured.toml --paper work"},
    {"checklist_entries", "checklist data/vehicles/demo.toml --paper entries"},
    {"checklist_labels", "checklist data/vehicles/demo.toml --paper labels"},
    {"checklist_labels_of_long_names", "checklist {} --paper labels", long_names},
    {"checklist_parts", "checklist data/vehicles/demo.toml --paper parts"},
    {"checklist_parts_of_long_names", "checklist {} --paper parts", long_names},
    {"checklist_owner", "checklist data/vehicles/demo.toml --paper owner"},
    {"checklist_owner_of_long_names", "checklist {} --paper owner", long_names},
    {"pack", "pack data/vehicles/demo.toml {}.board", "unused"},
    {"limits", "limits data/vehicles/demo.toml --trials 2"},
    {"limits_of_a_recording",
     "limits data/recordings/steady-turn/recording.csv --vehicle data/vehicles/demo.toml"},
    {"sequence", "sequence data/vehicles/demo.toml"},
    {"sequence_of_long_names", "sequence data/scenarios/nominal.toml --vehicle {}", long_names},
    {"sequence_on_a_recording",
     "sequence data/recordings/lamp-out/recording.csv --vehicle data/vehicles/demo.toml"},
    {"decode", "decode data/recordings/hazard-skew/recording.csv"},
    {"decode_beside", "decode data/recordings/hazard-skew/recording.csv --beside 10ms 5s"},
    {"decode_with_faults", "decode data/recordings/as-one/recording.csv"},
    {"decode_with_caveats", "decode data/recordings/recorder-log/ride.log"},
    {"decode_with_hindsight", "decode data/recordings/missing-flash/recording.csv --hold 250ms --hindsight"},
    {"inspect", "inspect data/recordings/steady-turn/recording.csv"},
    {"inspect_pwm", "inspect data/recordings/pwm-line/recording.csv"},
    {"fit", "fit data/recordings/steady-turn/recording.csv"},
    {"fit_of_a_lamp_out", "fit data/recordings/lamp-out/recording.csv"},
    {"sweep", "sweep data/scenarios/nominal.toml --trials 20"},
    {"sweep_of_the_hold", "sweep data/scenarios/worn.toml --trials 20 --hold-rule fixed"},
    {"sweep_of_unknown_bikes", "sweep data/scenarios/unknown.toml --trials 20"},
    {"verify", "verify data/recordings"},
    {"faults", "prove faults --seeds 1"},
    {"faults_with_a_decoder_as_given", "prove faults F09 F31 --seeds 2 --hold 300ms"},
    {"families", "prove families --rides 2 --mixed-rides 2"},
    {"compare", "prove compare --flashes 100"},
    {"worth", "prove worth --flashes 100 --fault-seeds 1 --family-rides 1"},
    {"soak", "prove soak --flashes 3000"},
    {"ride_of_a_soak", "prove soak --ride 3"},
};

INSTANTIATE_TEST_SUITE_P(Text, EveryCommand, ::testing::ValuesIn(commands),
                         [](const auto& info) { return info.param.name; });

TEST(EveryCommand, VerifyDrawsADifferenceAtTheEndOfAStripWithin80Characters) {
    const Scratch scratch;
    const std::string name =
        "a-case-with-a-name-that-is-longer-than-anybody-would-choose-for-a-folder-by-hand";
    for (const char* file : {"case.toml", "expected.csv", "recording.csv"}) {
        std::filesystem::create_directories(scratch.path(name));
        std::filesystem::copy(std::string(WINKHOLD_SOURCE "/data/recordings/steady-turn/") + file,
                              scratch.path(name + "/" + file));
    }
    // never off again: the difference is where the recording ends
    std::string expected = scratch.read(name + "/expected.csv");
    expected.erase(expected.rfind('\n', expected.size() - 2) + 1);
    scratch.write(name + "/expected.csv", expected);
    const Ran ran = scratch.run("verify " + scratch.path());
    EXPECT_EQ(ran.exit_code, 1) << ran.out << ran.err;
    EXPECT_NE(ran.out.find('^'), std::string::npos) << ran.out;
    EXPECT_EQ(too_wide(ran.out), std::vector<std::string>{});
}

TEST(EveryCommand, HeadsItsReportWithAFileOfAnyName) {
    const Scratch scratch;
    std::string ride = "time_ms,left,right\n0,0,0\n";
    for (int flash = 1; flash <= 6; ++flash)
        ride += std::to_string(700 * flash) + ",1,0\n" + std::to_string(700 * flash + 350) + ",0,0\n";
    const std::string file = scratch.write(std::string(120, 'x') + ".csv", ride + "9000,0,0\n");
    for (const char* command : {"decode ", "inspect ", "fit ", "sweep ", "sequence "}) {
        const Ran ran = scratch.run(command + file);
        EXPECT_LT(ran.exit_code, 2) << command << ran.err;
        EXPECT_EQ(too_wide(ran.out), std::vector<std::string>{}) << command;
    }
}

} // namespace
} // namespace winkhold::testing
