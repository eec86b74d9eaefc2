// A bike that is well built can become ready: nothing is open that its owner can't help.
#include "checklist/ready_bike.hpp"

#include <regex>

namespace winkhold::testing {
namespace {

using host::Verdict;

/// Each is replaced once, where it first stands.
using Changes = std::vector<std::pair<std::string, std::string>>;

std::string demo_with(const Changes& changes) {
    std::string text = demo_text();
    for (const auto& [from, to] : changes) {
        const std::size_t at = text.find(from);
        if (at == text.npos) throw std::logic_error("\"" + from + "\" doesn't stand in the demo's file");
        text.replace(at, from.size(), to);
    }
    return text;
}

/// Without the table of this name, or the first whose heading begins so.
void take_out(std::string& text, const std::string& heading) {
    const std::size_t at = text.find(heading);
    if (at == text.npos) throw std::logic_error(heading + " doesn't stand in the demo's file");
    text.erase(at, text.find("\n[", at + 1) - at);
}

void expect_ready(const std::string& bike, const std::string& what) {
    const host::Readiness readiness = checklist_of_text(all_measured(bike)).readiness;
    EXPECT_EQ(readiness.verdict(), Verdict::ready) << what << ": " << host::verdict_line(readiness);
    for (const host::Reason& reason : readiness.against)
        ADD_FAILURE() << what << ": " << reason.text;
    for (const host::Reason& reason : readiness.missing)
        ADD_FAILURE() << what << ": " << reason.text;
}

const char* const places[] = {"un-ece",      "european-union", "germany",      "new-south-wales",
                              "switzerland", "united-kingdom", "united-states"};

/// The factory's stop lamps stay as they are, and nobody taps the brake.
std::string with_factory_stop_lamps() {
    std::string bike = demo_with({
        {"\"ST+\", ", ""},
        {"\"lamps stop\",\n", "\n"},
        {"[0.9, 0.9, 1.4, 1.4, 1.5, 0.8, 0.8]", "[0.9, 0.9, 1.4, 1.4, 0.8, 0.8]"},
        {"[150, 150, 150, 150, 160, 130, 130]", "[150, 150, 150, 150, 130, 130]"},
        {"\"J6\", \"J7\", \"J8\", \"J8\"]", "\"J6\", \"J8\", \"J8\"]"},
        {"\"7\", \"2\", \"2\", \"4\"]", "\"7\", \"2\", \"4\"]"},
        {"label = [\"ST-\", ", "label = ["},
        {"\"TB\", ", ""},
        {"\"tap brake\", ", ""},
        {"\"pin A2\", ", ""},
        {"\"blue\", \"yellow\", ", "\"blue\", "},
        {"[\"1\", \"2\", \"3\", \"4\", \"5\"]", "[\"1\", \"2\", \"3\", \"4\"]"},
        {"tap_pins = [\"A0\", \"A1\", \"A2\"", "tap_pins = [\"A0\", \"A1\", \"\""},
        {"from = [\"lamps stop\", ", "from = ["},
        {"\"board D9 transistor\", ", ""},
        {"length_m = [1.5, 0.8, 0.8]", "length_m = 0.8"},
        {"[160, 130, 130]", "130"},
        {"connector = [\"J7\", \"J8\", \"J8\"]", "connector = \"J8\""},
        {"cavity = [\"1\", \"1\", \"3\"]", "cavity = [\"1\", \"3\"]"},
    });
    take_out(bike, "\n[[lamps]]\nname = \"stop\"");
    return bike;
}

/// And the factory's turn lamps at the rear.
std::string with_factory_rear_lamps() {
    std::string bike = demo_with({
        {"\"RL+\", \"RR+\", ", ""},
        {"\"lamps rear left\", \"lamps rear right\", ", ""},
        {"[0.9, 0.9, 1.4, 1.4, 1.5", "[0.9, 0.9, 1.5"},
        {"[150, 150, 150, 150, 160", "[150, 150, 160"},
        {"\"J3\", \"J4\", \"J5\", \"J6\", \"J7\"", "\"J3\", \"J4\", \"J7\""},
        {"\"7\", \"7\", \"7\", \"7\", \"2\"", "\"7\", \"7\", \"2\""},
    });
    take_out(bike, "\n[[lamps]]\nname = \"rear left\"");
    take_out(bike, "\n[[lamps]]\nname = \"rear right\"");
    take_out(bike, "\n[[wires]]\nlabel = [\"RL1\"");
    return bike;
}

TEST(Reachable, AtEachPlaceWithFactoryLampsOrWithout) {
    const std::pair<const char*, std::string> bikes[] = {
        {"all lamps", demo_text()},
        {"factory stop lamps", with_factory_stop_lamps()},
        {"factory rear lamps", with_factory_rear_lamps()},
        {"all at once", std::regex_replace(demo_text(), std::regex("pattern = \"outward\"\nstep = [^\n]*"),
                                           "pattern = \"together\"")},
    };
    for (const auto& [name, bike] : bikes)
        for (const std::string place : places) {
            std::string there = bike;
            there.replace(there.find("\"un-ece\""), 8, "\"" + place + "\"");
            expect_ready(there, name + (" at " + place));
        }
}

TEST(Reachable, WithoutABatteryWhereTheKindHasNone) {
    std::string bike = demo_text();
    take_out(bike, "\n[battery]");
    EXPECT_EQ(verdict(all_measured(bike)), Verdict::open) << "a motorcycle has one";
    bike.replace(bike.find("\"motorcycle\""), 12, "\"motorcycle-without-battery\"");
    expect_ready(bike, "no battery");
}

TEST(Reachable, WithLinesThatAreLowWhenLit) {
    const std::string bike = demo_with({{"active_left = \"high\"", "active_left = \"low\""},
                                        {"active_right = \"high\"", "active_right = \"low\""}});
    expect_ready(bike, "active low");
    // a line that its lamp pulls up is near the battery's volts while it is dark
    for (const host::PointRecord& record : checklist_of_text(bike).points) {
        if (record.point.id == "wet-left-dark-v") {
            EXPECT_GT(*record.point.least, 5);
        }
        if (record.point.id == "wet-left-lit-v") {
            EXPECT_LT(*record.point.most, 4);
        }
        if (record.point.id == "wet-brake-dark-v") {
            EXPECT_LT(*record.point.most, 4);
        }
    }
}

TEST(Reachable, WithoutTellTalesThatItNeverHad) {
    std::string bike = demo_text();
    take_out(bike, "\n[[keep]]\nname = \"left pilot\"");
    take_out(bike, "\n[[keep]]\nname = \"right pilot\"");
    EXPECT_EQ(verdict(bike), Verdict::open);
    expect_ready(bike, "no tell-tales");
}

TEST(Reachable, WithAStopAndATailLampApart) {
    expect_ready(demo_with({{"dimmed = 40", "dimmed = 0"}}), "stop lamps alone");
}

TEST(Reachable, WithoutWhatGoesWithAPartThatIsNotThere) {
    expect_ready(demo_with({{"bounce = \"3ms\"", "bounce = \"0ms\""}, {"bounce_pulses = 3\n", "\n"}}),
                 "no bounce");
    expect_ready(demo_with({{"bulk_uf = 220", "bulk_uf = 0"}, {"bulk_feeds = \"all\"", "#"}}),
                 "no bulk capacitor");
}

TEST(Reachable, WithPlugsLeftOut) {
    const std::string bike = demo_with({{"connector = \"J1\"\ncavity = \"1\"", "connector = \"\""},
                                        {"connector = \"J1\"\ncavity = \"2\"", "connector = \"\""}});
    expect_ready(bike, "no plugs");
}

TEST(Reachable, OfAContradictionThatIsMeant) {
    const std::string bike = demo_with({{"high_edge_mm = 652", "high_edge_mm = 690"}});
    const host::Checklist checklist = checklist_of_text(bike);
    const auto meant = [](const host::PointRecord& record) {
        return record.point.id.rfind("meant-", 0) == 0;
    };
    EXPECT_EQ(std::count_if(checklist.points.begin(), checklist.points.end(), meant), 1)
        << "its edges don't fit its height";
    expect_ready(bike, "meant so");
    // what was meant of another file says nothing of this one
    std::string other = all_measured(bike);
    other.replace(other.find("high_edge_mm = 690"), 18, "high_edge_mm = 790");
    EXPECT_EQ(verdict(other), Verdict::open);
}

} // namespace
} // namespace winkhold::testing
