// Labels, parts, owner's sheet, and paper that comes back into the vehicle file.
#include "checklist/ready_bike.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

namespace winkhold::testing {
namespace {

using nlohmann::json;

const std::string demo = "data/vehicles/demo.toml";

json paper(const Scratch& scratch, const std::string& file, const std::string& name) {
    return json::parse(scratch.run("checklist " + file + " --paper " + name + " --json").out);
}

TEST(Labels, AreOneARecordForEachWire) {
    const Scratch scratch;
    const json wires = json::parse(scratch.run("wiring " + demo + " --json").out)["wires"];
    const json labels = paper(scratch, demo, "labels")["labels"];
    ASSERT_EQ(labels.size(), wires.size());
    for (std::size_t i = 0; i < wires.size(); ++i) {
        EXPECT_EQ(labels[i]["label"], wires[i]["label"]);
        EXPECT_EQ(labels[i]["fuse_a"], wires[i]["fuse_a"]);
    }
    const std::string csv = scratch.run("checklist " + demo + " --paper labels --csv").out;
    EXPECT_EQ(static_cast<std::size_t>(std::count(csv.begin(), csv.end(), '\n')), wires.size() + 1);
    EXPECT_EQ(csv.rfind("label,from,to,colour,awg,length_m,fuse_a,connector,cavity\r\nB+,", 0), 0u);
}

double count_of(const json& parts, const std::string& part, const std::string& value) {
    for (const json& row : parts["parts"])
        if (row["part"] == part && row["value"].get<std::string>().rfind(value, 0) == 0) return row["count"];
    return 0;
}

TEST(Parts, AreWhatOneWorksOutByHand) {
    const Scratch scratch;
    const json parts = paper(scratch, demo, "parts");
    EXPECT_EQ(parts["missing"], json::array());
    // R = (14.4 V - n Vf - 0.4 V) / 20 mA, E24 up (IEC 60063): 595, 400, 540 ohm
    EXPECT_EQ(count_of(parts, "resistor", "620 ohm"), 24);
    EXPECT_EQ(count_of(parts, "resistor", "430 ohm"), 6);
    EXPECT_EQ(count_of(parts, "resistor", "560 ohm"), 10);
    EXPECT_EQ(count_of(parts, "LED", "amber"), 24);
    EXPECT_EQ(count_of(parts, "shift register", "8 outputs"), 4);
    EXPECT_EQ(count_of(parts, "transistor", ""), 3);
    EXPECT_EQ(count_of(parts, "fuse", "0.5 A"), 5);
    double metres = 0;
    for (const json& row : parts["parts"])
        if (row["unit"] == "m") metres += row["count"].get<double>();
    double listed = 0;
    const json wiring = json::parse(scratch.run("wiring " + demo + " --json").out);
    for (const json& wire : wiring["wires"])
        listed += wire["length_m"].get<double>();
    EXPECT_NEAR(metres, listed, 0.05);
}

TEST(Parts, SayWhatIsNotKnown) {
    const Scratch scratch;
    const std::string bare = scratch.write("bare.toml", "[vehicle]\nname = \"bare\"\n");
    EXPECT_GE(paper(scratch, bare, "parts")["missing"].size(), 3u);
    std::string text = demo_text();
    text.insert(text.find("[board]\n") + 8, "example = true\n");
    const json example = paper(scratch, scratch.write("example.toml", text), "parts");
    EXPECT_EQ(example["still_example"], json::array({"board"}));
}

TEST(Owner, IsToldTheVerdictFirstAndNotToRideABikeThatIsOpen) {
    const Scratch scratch;
    for (const char* form : {"", " --markdown"}) {
        const Ran ran = scratch.run("checklist " + demo + " --paper owner" + form);
        EXPECT_EQ(ran.exit_code, 1);
        EXPECT_NE(ran.out.substr(0, ran.out.find('\n')).find("OPEN: "), std::string::npos);
        EXPECT_NE(ran.out.find("No. Something is not measured"), std::string::npos);
    }
    const json owner = paper(scratch, demo, "owner");
    EXPECT_EQ(owner["verdict"], "open");
    EXPECT_EQ(owner["sections"].size(), 8u);
}

TEST(Owner, IsToldWhatSomebodyNotedOfThePartsThatStay) {
    const Scratch scratch;
    const std::string file = scratch.write(
        "bike.toml", demo_text() + entry("keep-flasher-unit", "done = true\nnote = \"no side flashes\"") +
                         entry("look-hazard-without-key", "done = true\nnote = \"it is dead, as ever\""));
    const std::string text = scratch.run("checklist " + file + " --paper owner --csv").out;
    EXPECT_NE(text.find("Without it: no side flashes."), std::string::npos);
    EXPECT_NE(text.find("Hazard with the key off: it is dead, as ever."), std::string::npos);
}

TEST(WorkPaper, HasAPageForEachStageAndRoomToWrite) {
    const Scratch scratch;
    const std::string text = scratch.run("checklist " + demo + " --paper work").out;
    EXPECT_EQ(std::count(text.begin(), text.end(), '\f'), 5);
    for (const char* line : {"Plate ____", "Odometer ____", "Owner ____", "________ mA"})
        EXPECT_NE(text.find(line), std::string::npos) << line;
}

/// The entries as somebody fills them in, from what the program says of each point.
std::string filled_in(const Scratch& scratch) {
    std::map<std::string, json> points;
    const json checklist = json::parse(scratch.run("checklist " + demo + " --json").out);
    for (const json& point : checklist["points"])
        points[point["id"]] = point;
    std::istringstream entries(scratch.run("checklist " + demo + " --paper entries").out);
    std::string text, id;
    for (std::string line; std::getline(entries, line);) {
        if (line.rfind("# with = ", 0) == 0) line = "# with = \"meter\"";
        if (line.rfind("# on = ", 0) == 0) line = "# on = \"2026-03-14\"";
        if (line.rfind("# note = ", 0) == 0) line = "# note = \"seen to by hand\"";
        if (line.rfind("# what = ", 0) == 0) id = line.substr(10, line.size() - 11);
        if (line.rfind("# done = ", 0) == 0) line += "true";
        if (line.rfind("# value = ", 0) == 0)
            line = fmt::format("# value = {}",
                               (points[id]["least"].get<double>() + points[id]["most"].get<double>()) / 2);
        const bool is_table = std::regex_search(
            line, std::regex("^# (\\[\\[measured|what = |done = |value = |with = |on = |by = |note = )"));
        text += (is_table ? line.substr(2) : line) + "\n";
    }
    return text;
}

TEST(Entries, AsPrintedChangeNothingAndFilledInComeBackWithTheirRemarks) {
    const Scratch scratch;
    const std::string untouched = scratch.write(
        "untouched.toml", demo_text() + scratch.run("checklist " + demo + " --paper entries").out);
    EXPECT_EQ(json::parse(scratch.run("checklist " + untouched + " --json").out)["verdict"], "open");
    const std::string filled = scratch.write("filled.toml", demo_text() + filled_in(scratch));
    const Ran ran = scratch.run("checklist " + filled + " --json");
    const json checklist = json::parse(ran.out);
    EXPECT_EQ(ran.exit_code, 0) << checklist["line"];
    EXPECT_EQ(checklist["verdict"], "ready");
    for (const json& point : checklist["points"])
        EXPECT_EQ(point["measured"]["note"], "seen to by hand");
    const std::string left = scratch.run("checklist " + filled + " --paper entries").out;
    EXPECT_EQ(left.find("[[measured]]"), std::string::npos);
    EXPECT_NE(scratch.run("checklist " + filled + " --paper work").out.find("seen to by hand"),
              std::string::npos);
}

TEST(Entries, StayAsTheyAreWhenAnotherCommandChangesTheFile) {
    const Scratch scratch;
    const std::string filled = scratch.write("filled.toml", demo_text() + filled_in(scratch));
    const std::string before = scratch.read("filled.toml");
    ASSERT_EQ(scratch.run("simulate " + filled + " --seed 7 --out " + scratch.path("ride.csv")).exit_code, 0);
    ASSERT_LE(scratch.run("fit " + scratch.path("ride.csv") + " --onto " + filled).exit_code, 1);
    const std::string after = scratch.read("filled.toml");
    EXPECT_NE(before, after);
    const std::string first = "\n# -- ";
    EXPECT_EQ(before.substr(before.find(first)), after.substr(after.find(first)));
}

TEST(Entries, SayWhatIsToBeMendedWhereItStands) {
    const Scratch scratch;
    const std::string file =
        scratch.write("bike.toml", demo_text() + entry("side-change", "done = true", "with = \"eyes\"\n"));
    const std::string entries = std::regex_replace(scratch.run("checklist " + file + " --paper entries").out,
                                                   std::regex("\n#   "), " ");
    EXPECT_NE(entries.find("side-change is entered, but say when (on)"), std::string::npos);
    EXPECT_EQ(entries.find("what = \"side-change\""), std::string::npos) << "an entry twice is refused";
}

TEST(Papers, ExitWithZeroForAReadyBikeAlone) {
    const Scratch scratch;
    const std::string filled = scratch.write("filled.toml", demo_text() + filled_in(scratch));
    for (const char* name : {"checklist", "work", "entries", "labels", "parts", "owner"}) {
        EXPECT_EQ(scratch.run("checklist " + demo + " --paper " + name).exit_code, 1) << name;
        EXPECT_EQ(scratch.run("checklist " + filled + " --paper " + name).exit_code, 0) << name;
    }
    EXPECT_EQ(scratch.run("checklist " + demo + " --paper entries --json").exit_code, 2);
    EXPECT_EQ(scratch.run("checklist " + demo + " --paper wall").exit_code, 2);
}

} // namespace
} // namespace winkhold::testing
