// Each check of the wiring sheet: a file that breaks one thing and nothing else, and its good twin, which
// differs from it as little as can be.
#include "winkhold/bike/wiring/wires.hpp"
#include "wiring/breach.hpp"

#include <set>

namespace winkhold::testing {
namespace {

/// The number of the first line that begins with `text`.
int line_of(const std::string& file, const std::string& text) {
    int line = 1;
    std::istringstream lines(file);
    for (std::string one; std::getline(lines, one); ++line)
        if (one.rfind(text, 0) == 0) return line;
    return 0;
}

/// The number of the line of the [[table]] in which `text` stands.
int table_line_of(const std::string& file, const std::string& text) {
    const int at = line_of(file, text);
    int table = 0;
    int line = 1;
    std::istringstream lines(file);
    for (std::string one; std::getline(lines, one) && line <= at; ++line)
        if (one.rfind("[[", 0) == 0) table = line;
    return table;
}

/// Findings and warnings.
std::vector<host::WireFinding> told(const host::WiringSheet& sheet) {
    std::vector<host::WireFinding> all = sheet.findings;
    all.insert(all.end(), sheet.warnings.begin(), sheet.warnings.end());
    return all;
}

class Finds : public ::testing::TestWithParam<Breach> {};

TEST_P(Finds, ThatAloneAndNothingInItsTwin) {
    const Breach& breach = GetParam();
    const Scratch scratch;
    const std::string broken = bike_with(breach.broken);
    const std::string path = scratch.write("broken.toml", broken);
    const auto found = told(host::wiring_sheet_of(host::Vehicle::read(path)));
    ASSERT_EQ(found.size(), 1u) << (found.empty() ? "nothing found" : found[1].text);
    EXPECT_EQ(name(found[0].kind), name(breach.kind));
    EXPECT_NE(found[0].text.find(breach.says), std::string::npos) << found[0].text;
    EXPECT_EQ(found[0].where, path + ":" + std::to_string(table_line_of(broken, breach.at)));

    for (const auto& finding :
         told(host::wiring_sheet_of(host::Vehicle::read(scratch.write("good.toml", bike_with(breach.good))))))
        ADD_FAILURE() << name(finding.kind) << ": " << finding.text;
}

const std::string fl2 = "from = [\"pin D3\", \"pin D4\"]";
const std::string fl_ma = "current_ma = [15, 15]";

const std::string tap =
    "[[wires]]\nlabel = \"X\"\nfrom = \"tap left\"\nto = \"part relay\"\nawg = 24\nfuse_a = 1\n"
    "current_ma = 1\n";

const Breach doubles_loads_and_reach[] = {
    {"a_wire_needs_a_label",
     {{"label = \"ST\"", "label = \" \""}},
     {},
     Kind::no_label,
     "label",
     "label = \" \""},
    {"a_label_stands_once",
     {{"label = \"ST\"", "label = \"b+\""}},
     {{"label = \"ST\"", "label = \"b\""}},
     Kind::label_double,
     "\"b+\"",
     "label = \"b+\""},
    {"a_pin_takes_one_wire",
     {{"", "[[wires]]\nlabel = \"X\"\nfrom = \"part sensor\"\nto = \"pin a0\"\n"}},
     {{"", "[[wires]]\nlabel = \"X\"\nfrom = \"part sensor\"\nto = \"pin A2\"\n"}},
     Kind::pin_double,
     "wire X is the second one on pin a0",
     "label = \"X\""},
    {"a_cavity_takes_one_wire",
     {{"cavity = [\"1\", \"2\"]", "cavity = [\"1\", \"1\"]"}},
     {{"cavity = [\"1\", \"2\"]", "cavity = [\"1\", \"3\"]"}},
     Kind::cavity_double,
     "cavity 1 of connector J2",
     "label = [\"TL\""},
    {"a_pin_has_one_job",
     {{"\"pin A1\"", "\"pin D9\""}, {"\"A3\", \"A1\"", "\"A3\", \"D9\""}},
     {{"\"pin A1\"", "\"pin A5\""}, {"\"A3\", \"A1\"", "\"A3\", \"A5\""}},
     Kind::pin_two_jobs,
     "pin D9 has two jobs",
     "label = [\"TL\""},
    {"a_tap_is_not_where_the_chip_needs_the_pin",
     {{"\"pin A1\"", "\"pin PD1\""}, {"\"A3\", \"A1\"", "\"A3\", \"PD1\""}},
     {{"\"pin A1\"", "\"pin PD2\""}, {"\"A3\", \"A1\"", "\"A3\", \"PD2\""}},
     Kind::pin_reserved,
     "tap brake is at pin D1 (PD1), which the chip needs (UART)",
     "label = [\"TL\""},
    {"lamps_are_not_where_the_chip_needs_the_pin",
     {{"\"D10\", \"D8\"", "\"D10\", \"D11\""}, {"\"pin D10\", \"pin D8\"", "\"pin D10\", \"pin D11\""}},
     {},
     Kind::pin_reserved,
     "lamps front right are at pin D11 (PB3), which the chip needs (SPI data)",
     "name = \"front right\""},
    {"lamps_are_not_where_the_registers_hang",
     {{"register_outputs = 8", "register_outputs = 8\nregister_latch = \"PB2\""}},
     {{"register_outputs = 8", "register_outputs = 8\nregister_latch = \"PD2\""}},
     Kind::pin_two_jobs,
     "lamps front right are at pin D10 (PB2), the registers' latch ([board] register_latch)",
     "name = \"front right\""},
    {"a_live_wire_needs_a_fuse",
     {{"fuse_a = 2\n", ""}},
     {{"fuse_a = 2\n", "fuse_a = 2.1\n"}},
     Kind::no_fuse,
     "wire B+ has no fuse, though battery",
     "label = \"B+\""},
    {"a_fuse_carries_the_load_by_three_quarters",
     {{"current_ma = 1500", "current_ma = 1500.1"}},
     {{"current_ma = 1500", "current_ma = 1500"}},
     Kind::fuse_too_small,
     "wire B+",
     "label = \"B+\""},
    {"a_fuse_saves_its_wire",
     {{"fuse_a = [0.5, 0.5]", "fuse_a = [0.5, 3.6]"}},
     {{"fuse_a = [0.5, 0.5]", "fuse_a = [0.5, 3.5]"}},
     Kind::fuse_too_large,
     "wire TB carries 3.5 A at AWG 24, but its fuse is 3.6 A: the wire would burn first",
     "label = [\"TL\""},
    {"the_boards_fuse_saves_what_it_feeds",
     {{"fuse_a = 2\n", "fuse_a = 3.6\n"}},
     {{"fuse_a = 2\n", "fuse_a = 3.5\n"}},
     Kind::fuse_too_large,
     "the board's fuse is 3.6 A",
     "label = \"ST\""},
    {"a_gauge_carries_its_ampacity",
     {{"current_ma = 80\n", "current_ma = 3500.5\n"}},
     {{"current_ma = 80\n", "current_ma = 3500\n"}},
     Kind::wire_overloaded,
     "AWG 24 only 3.5 A",
     "label = \"ST\""},
    {"a_pin_carries_its_limit",
     {{fl_ma, "current_ma = [20.1, 9]"}},
     {{fl_ma, "current_ma = [20, 9]"}},
     Kind::pin_overloaded,
     "pin D3 carries 20.1 mA, its limit is 20 mA",
     "label = [\"FL1\""},
    {"a_port_carries_its_limit",
     {{fl_ma, "current_ma = [15, 15.1]"}},
     {{fl_ma, "current_ma = [15, 15]"}},
     Kind::port_overloaded,
     "port PD carries 30.1 mA",
     "label = [\"FL1\""},
    {"the_controller_carries_its_limit",
     {{"package_ma = 40", "package_ma = 30.1"}},
     {{"package_ma = 40", "package_ma = 30.3"}},
     Kind::package_overloaded,
     "the board's controller carries 30.2 mA",
     "label = [\"FR1\""},
    {"lamps_need_a_wire",
     {{"to = \"lamps stop\"", "to = \"part spare\""}, {"from = \"lamps stop\"", "from = \"part other\""}},
     {{"to = \"lamps stop\"", "to = \"lamps Stop\""}},
     Kind::lamps_not_reached,
     "lamps stop: no wire goes to them",
     "name = \"stop\""},
    {"a_wire_goes_to_lamps_that_are_there",
     {{"", "[[wires]]\nlabel = \"X\"\nfrom = \"part spare\"\nto = \"lamps ghost\"\n"}},
     {{"", "[[wires]]\nlabel = \"X\"\nfrom = \"part spare\"\nto = \"part ghost\"\n"}},
     Kind::lamps_not_known,
     "lamps ghost",
     "label = \"X\""},
    {"each_pin_of_a_wired_group_has_its_wire",
     {{"pins = [\"D3\", \"D4\"]", "pins = [\"D3\", \"D4\", \"D7\"]"}},
     {},
     Kind::lamp_pin_not_reached,
     "no wire takes pin D7 to lamps front left",
     "name = \"front left\""},
    {"a_group_is_wired_to_its_own_pins",
     {{"pins = [\"D3\", \"D4\"]", "pins = [\"D3\"]"}},
     {},
     Kind::pin_two_jobs,
     "whose pins are D3",
     "label = [\"FL1\""},
    {"a_line_that_lamps_follow_is_tapped",
     {{"\"tap brake\"", "\"part brake\""}},
     {},
     Kind::tap_not_reached,
     "no wire comes from tap brake, though lamps stop follow it",
     "name = \"stop\""},
    {"plus_is_not_joined_to_ground",
     {{"", "[[wires]]\nlabel = \"X\"\nfrom = \"switched\"\nto = \"ground\"\n"}},
     {{"", "[[wires]]\nlabel = \"X\"\nfrom = \"part spare\"\nto = \"ground\"\n"}},
     Kind::short_circuit,
     "a short circuit",
     "label = \"X\""},
    {"a_factory_line_stays_whole",
     {{"", tap + "cuts = true\n"}},
     {{"", tap + "cuts = false\n"}},
     Kind::cut_line,
     "wire X cuts the factory line; this takes off left pilot; tap it",
     "label = \"X\""},
    {"a_kept_part_is_connected",
     {{"connected = true", "connected = false"}},
     {},
     Kind::kept_unplugged,
     "tell-tale \"left pilot\" must stay connected",
     "name = \"left pilot\""},

};

std::vector<Breach> all_breaches() {
    std::vector<Breach> all(std::begin(doubles_loads_and_reach), std::end(doubles_loads_and_reach));
    for (const std::vector<Breach>& more : {net_breaches(), contradictions()})
        all.insert(all.end(), more.begin(), more.end());
    return all;
}

INSTANTIATE_TEST_SUITE_P(Wiring, Finds, ::testing::ValuesIn(all_breaches()),
                         [](const auto& info) { return info.param.rule; });

TEST(Findings, AllKindsAreTried) {
    std::set<Kind> tried;
    for (const Breach& breach : all_breaches())
        tried.insert(breach.kind);
    EXPECT_EQ(tried.size(), static_cast<std::size_t>(Kind::implausible) + 1);
}

std::vector<std::string> not_judged(const Edits& edits) {
    const Scratch scratch;
    return host::wiring_sheet_of(host::Vehicle::read(scratch.write("a.toml", bike_with(edits)))).not_judged;
}

TEST(NotJudged, NothingInAFileThatSaysEnough) {
    EXPECT_EQ(not_judged({}), std::vector<std::string>{});
}

TEST(NotJudged, WhatTheFileDoesNotSayIsToldAndNeverPassed) {
    struct Gap {
        Edits edits;
        std::string says;
    };
    const Gap gaps[] = {
        {{{"pin_ma = 20", ""}}, "[board] pin_ma"},
        {{{"port_ma = 30", ""}}, "[board] port_ma"},
        {{{"package_ma = 40", ""}}, "[board] package_ma"},
        {{{"current_ma = 80\n", ""}}, "wire ST"},
        {{{fl_ma + "\n", ""}}, "load of a pin not known (current_ma): wire FL1, wire FL2"},
        {{{"to = \"ground\"\nawg = 18", "to = \"ground\"\nawg = 17"}},
         "gauge not given, or not in the table"},
        {{{"kind = \"tell-tale\"\nline = \"left\"", "kind = \"module\"\nline = \"left\""}}, "tell-tales"},
        {{{"register_outputs = 8", ""}, {"", registers("SR1.2")}}, "[board] register_outputs"},
        {{{"tap_pins", "# tap_pins"}}, "[board] tap_pins"},
        {{{"pins = [\"D9\"]", ""}}, "lamps stop: whether board D9 transistor lights them; enter pins"},
        {{{"to = \"board D9 transistor\"", "to = \"part relay 2\""}},
         "part relay 2: what it joins inside is not known; not followed beyond it: wire ST-"},
        {{{"to = \"board D9 transistor\"", "to = \"part relay 2\""}},
         "lamps stop: whether plus and return are there; wire ST- can't be followed"},
        {{{"from = \"battery\"", "from = \"part fuse box\""}},
         "from the battery or a switched line to the board's plus"},
        {{{"to = \"ground\"", "to = \"part plug J9\""}}, "from the board's minus to ground"},
        {{{"to = \"pin A3\"", "to = \"part filter module\""}},
         "tap right: whether the board hears it; wire TR"},
        {{{"", wire_to("ground", "pin A7")}}, "pin A7 is joined to ground (wire X)"},
        {{{"", wire_to("board J7", "part S1")}}, "board J7: the name doesn't say what it is"},
        {{{"", wire_to("tap tail", "part S1", "fuse_a = 1\n")}}, "part s1: nothing else goes on from there"},
        {{{"at = \"rear\"", ""}}, "lamps stop: whether name and wires fit its place; enter at"},
        {{{"job = \"stop\"", "job = \"marker\""}}, "wire TB: what shows the brake"},
        {{{"current_ma = 1500\n", ""}}, "ground: what returns through wire GND is not known"},
    };
    for (const Gap& gap : gaps) {
        const auto told = not_judged(gap.edits);
        EXPECT_TRUE(std::any_of(told.begin(), told.end(), [&](const auto& one) {
            return one.find(gap.says) != one.npos;
        })) << gap.says;
    }
}

TEST(Loads, ComeFromTheElectricsWhereOneWireGoesToAGroup) {
    // two red strings of two, 20 mA each, on 12 V: R = (14.4 - 4) / 20 mA = 520, next of E24 560;
    // at 16 V, R 5 % low and an LED of 1.8 V: 2 x (16 - 3.6) / 532 = 46.6 mA
    const Scratch scratch;
    const std::string path = scratch.write(
        "a.toml",
        bike_with({{"current_ma = 80\n", ""},
                   {"current_ma = 81\n", ""},
                   {"driver = \"transistor\"", "driver = \"transistor\"\nled_v = 2.0\nled_ma = 20\n"
                                               "in_series = 2\ncolour = \"red\"\nfeed = \"resistor\""}}));
    const auto sheet = host::wiring_sheet_of(host::Vehicle::read(path));
    const auto ma = load_ma(sheet.wiring.wires.back());
    ASSERT_TRUE(ma.has_value());
    EXPECT_GE(*ma, 40);
    EXPECT_LE(*ma, 50);
    EXPECT_EQ(sheet.findings.size(), 0u);
}

TEST(Loads, OfPinsThatLightTheirLampsThemselvesAreHeldToTheirLimit) {
    // one red LED on 5 V: (5 - 2) / 20 mA = 150 ohm; over 20 mA with 5.25 V and an LED of 1.8 V
    const Edits driven{{"pins = [\"D3\", \"D4\"]", "pins = [\"D3\", \"D4\"]\nled_v = 2.0\nled_ma = 20\n"
                                                   "in_series = 1\ncolour = \"red\"\nfeed = \"resistor\""},
                       {"board_ma = 20", "board_ma = 20\nregulator_v = 5"},
                       {fl_ma + "\n", ""},
                       {"port_ma = 30", "port_ma = 100"},
                       {"package_ma = 40", "package_ma = 100"}};
    const auto overloaded = [&](const std::string& limit) {
        Edits edits = driven;
        edits.push_back({"pin_ma = 20", "pin_ma = " + limit});
        const Scratch scratch;
        const auto findings =
            host::wiring_sheet_of(host::Vehicle::read(scratch.write("a.toml", bike_with(edits)))).findings;
        return std::count_if(findings.begin(), findings.end(),
                             [](const auto& one) { return one.kind == Kind::pin_overloaded; });
    };
    EXPECT_EQ(overloaded("20"), 2);
    EXPECT_EQ(overloaded("40"), 0);
}

} // namespace
} // namespace winkhold::testing
