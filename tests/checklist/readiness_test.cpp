// A bike that is ready; each single thing that is then broken, left open or not known keeps it from being so.
#include "checklist/ready_bike.hpp"

#include <algorithm>

namespace winkhold::testing {
namespace {

using host::Verdict;

/// Points of the demo, and their good answers, but for one.
const std::vector<host::CheckPoint>& points() {
    static const std::vector<host::CheckPoint> all = [] {
        std::vector<host::CheckPoint> found;
        for (const host::PointRecord& record : checklist_of_text(demo_text()).points)
            found.push_back(record.point);
        return found;
    }();
    return all;
}

std::string ready_but(const std::string& id, const std::string& instead) {
    std::string text = demo_text();
    for (const host::CheckPoint& point : points())
        text += point.id == id ? instead : entry(point.id, good_answer(point));
    return text;
}

TEST(Ready, IsABikeWithEverythingGivenMeasuredAndGood) {
    const host::Checklist checklist = checklist_of_text(ready_text());
    for (const host::Reason& reason : checklist.readiness.against)
        ADD_FAILURE() << reason.text;
    for (const host::Reason& reason : checklist.readiness.missing)
        ADD_FAILURE() << reason.text;
    EXPECT_EQ(host::verdict_line(checklist.readiness), "READY FOR INSPECTION");
    EXPECT_GT(points().size(), 60u);
}

TEST(Ready, NeedsEachPoint) {
    for (const host::CheckPoint& point : points()) {
        EXPECT_EQ(verdict(ready_but(point.id, "")), Verdict::open) << point.id;
        if (point.is_yes_or_no()) {
            EXPECT_EQ(verdict(ready_but(point.id, entry(point.id, "done = false"))), Verdict::not_ready)
                << point.id;
        }
    }
}

/// How all points that are measured stand if each has the value that `pick` makes of its limits.
void expect_all(host::Standing standing, double (*pick)(const host::CheckPoint&), const char* what) {
    std::string text = demo_text();
    for (const host::CheckPoint& point : points())
        if (!point.is_yes_or_no()) text += entry(point.id, fmt::format("value = {:.9f}", pick(point)));
    for (const host::PointRecord& record : checklist_of_text(text).points) {
        if (record.point.is_yes_or_no()) continue;
        EXPECT_TRUE(record.point.least && record.point.most) << record.point.id;
        EXPECT_EQ(record.standing, standing) << what << " " << record.point.id;
    }
}

TEST(Ready, NeedsEachValueWithinBothItsEnds) {
    using host::CheckPoint;
    using host::Standing;
    expect_all(
        Standing::passed, [](const CheckPoint& point) { return *point.least; }, "least");
    expect_all(
        Standing::passed, [](const CheckPoint& point) { return *point.most; }, "most");
    expect_all(
        Standing::failed, [](const CheckPoint& point) { return *point.least - 1e-6; }, "below");
    expect_all(
        Standing::failed, [](const CheckPoint& point) { return *point.most + 1e-6; }, "above");
    expect_all(
        Standing::failed, [](const CheckPoint&) { return -12.0; }, "far below");
    for (const CheckPoint& point : points())
        if (!point.is_yes_or_no()) {
            EXPECT_EQ(verdict(ready_but(point.id, entry(point.id, "value = -1"))), Verdict::not_ready)
                << point.id;
        }
}

TEST(Ready, NeedsToHearWithWhatAndWhen) {
    for (const char* half : {"", "with = \"meter\"\n", "on = \"2026-03-14\"\n"}) {
        std::string text = demo_text();
        for (const host::CheckPoint& point : points())
            text += entry(point.id, good_answer(point), half);
        EXPECT_EQ(checklist_of_text(text).count(host::Standing::open), points().size()) << half;
        for (const char* id : {"bench-all-lit-ma", "look-colour", "left-rate-per-min"})
            EXPECT_EQ(verdict(ready_but(id, entry(id,
                                                  id[0] == 'l' && id[1] == 'o' ? "done = true"
                                                  : id[0] == 'b'               ? "value = 800"
                                                                               : "value = 85",
                                                  half))),
                      Verdict::open)
                << id << half;
    }
}

TEST(Ready, NeedsEverySectionToBeTheOwners) {
    const std::string text = ready_text();
    int sections = 0;
    for (std::size_t at = text.find("\n["); at != std::string::npos; at = text.find("\n[", at + 1)) {
        const std::size_t end = text.find('\n', at + 1);
        std::string with_example = text;
        with_example.insert(end + 1, "example = true\n");
        if (text.compare(at, 13, "\n[[measured]]") == 0 && sections % 10 != 0) {
            ++sections;
            continue; // some of them will do
        }
        EXPECT_EQ(verdict(with_example), Verdict::open) << text.substr(at + 1, end - at - 1);
        ++sections;
    }
    EXPECT_GT(sections, 20);
}

struct Fault {
    const char* name;
    const char* from;
    const char* to;
    host::Judge judge;
    Verdict verdict;
};

void PrintTo(const Fault& fault, std::ostream* out) {
    *out << fault.name;
}

class ReadyBike : public ::testing::TestWithParam<Fault> {};

TEST_P(ReadyBike, WithOneFaultIsNotReady) {
    const Fault& fault = GetParam();
    const host::Readiness readiness = checklist_of_text(ready_with(fault.from, fault.to)).readiness;
    EXPECT_EQ(readiness.verdict(), fault.verdict) << host::verdict_line(readiness);
    const auto& reasons = fault.verdict == Verdict::not_ready ? readiness.against : readiness.missing;
    EXPECT_TRUE(std::any_of(reasons.begin(), reasons.end(), [&](const host::Reason& reason) {
        return reason.judge == fault.judge;
    })) << host::verdict_line(readiness);
}

const Fault faults[] = {
    {"a_board_that_stands_too_little", "regulator_most_v = 40", "regulator_most_v = 20",
     host::Judge::electrics, Verdict::not_ready},
    {"a_battery_too_small", "capacity_ah = 8", "capacity_ah = 0.1", host::Judge::electrics,
     Verdict::not_ready},
    {"a_battery_that_is_not_given", "capacity_ah = 8", "", host::Judge::electrics, Verdict::open},
    {"a_flasher_too_fast", "rate_per_min = 85", "rate_per_min = 140", host::Judge::limits,
     Verdict::not_ready},
    {"a_flasher_whose_rate_is_not_given", "rate_per_min = 85\n", "", host::Judge::points, Verdict::open},
    {"a_flasher_whose_duty_is_not_given", "duty_percent = 50 ", "#", host::Judge::sequence, Verdict::open},
    {"a_front_end_whose_sampling_is_not_given", "sample = \"1ms\"", "", host::Judge::points, Verdict::open},
    {"lamps_whose_colour_is_not_given", "colour = \"amber\"\n", "", host::Judge::facts, Verdict::open},
    {"lamps_whose_end_is_not_given", "at = \"front\"\n", "", host::Judge::facts, Verdict::open},
    {"a_wire_whose_colour_is_not_given", "colour = \"black\"\n", "", host::Judge::facts, Verdict::open},
    {"a_place_that_is_not_given", "place = \"un-ece\"", "", host::Judge::limits, Verdict::open},
    {"a_kind_that_is_not_given", "kind = \"motorcycle\"", "", host::Judge::limits, Verdict::open},
    {"a_step_too_long", "step = \"30ms\"", "step = \"100ms\"", host::Judge::sequence, Verdict::not_ready},
    {"a_fuse_left_out", "fuse_a = 3 ", "#", host::Judge::wiring, Verdict::not_ready},
    {"a_label_left_out", "label = \"GND\"", "label = \"\"", host::Judge::wiring, Verdict::not_ready},
    {"a_tell_tale_unplugged", "name = \"left pilot\"", "name = \"left pilot\"\nconnected = false",
     host::Judge::wiring, Verdict::not_ready},
};
INSTANTIATE_TEST_SUITE_P(Checklist, ReadyBike, ::testing::ValuesIn(faults),
                         [](const auto& info) { return info.param.name; });

TEST(Ready, SaysByFieldAndLineWhatNobodyEntered) {
    const std::string text = ready_with("led_v = 2.1 ", "# ");
    const std::size_t table = text.rfind("\n[[lamps]]", text.find("name = \"front left\"")) + 1;
    const auto line = std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(table), '\n') + 1;
    const host::Readiness readiness = checklist_of_text(text).readiness;
    const auto found = std::find_if(readiness.missing.begin(), readiness.missing.end(),
                                    [](const host::Reason& one) { return one.judge == host::Judge::facts; });
    ASSERT_NE(found, readiness.missing.end());
    const std::string& told = found->text;
    EXPECT_NE(told.find(fmt::format("bike.toml:{}, [[lamps]] 1 (front left): enter led_v.", line)), told.npos)
        << told;
    EXPECT_NE(host::verdict_line(readiness).find("1 table with facts that nobody entered"),
              std::string::npos);
}

TEST(Ready, NeedsARideThatShowsEverything) {
    const std::string text = ready_text();
    // a rider who only ever asks for left says nothing of the right, and must not hide what the right does
    const std::size_t from = text.find("script = [");
    const std::size_t to = text.find("\n]", from);
    std::string left_only = text;
    left_only.replace(from, to - from,
                      "script = [\n { show = \"off\", for = \"1s\" }, { show = \"left\", flashes = 6 },");
    EXPECT_EQ(verdict(left_only), Verdict::ready) << "the demo's rider asks for the rest";
    const std::size_t group = left_only.find("name = \"rear right\"");
    ASSERT_NE(group, std::string::npos);
    const std::size_t step = left_only.find("step = \"30ms\"", group);
    ASSERT_NE(step, std::string::npos);
    left_only.replace(step, 13, "step = \"100ms\"");
    EXPECT_EQ(verdict(left_only), Verdict::not_ready);
}

TEST(Place, GivesItsOwnLimits) {
    // 49 CFR 571.108 by SAE J945: starts of up to 2 s; UN R53: 1 s
    const auto most = [](const std::string& place) {
        std::string text = demo_text();
        text.replace(text.find("place = \"un-ece\""), 16, fmt::format("place = \"{}\"", place));
        for (const host::PointRecord& record : checklist_of_text(text).points)
            if (record.point.id == "left-first-light-ms") return record.point;
        throw std::logic_error("no such point");
    };
    EXPECT_EQ(most("un-ece").most, 1000);
    EXPECT_EQ(most("united-states").source.find("UN R"), std::string::npos);
    EXPECT_NE(most("switzerland").source.find("VTS"), std::string::npos);
}

TEST(ReadinessCommand, ExitsWithZeroForReadyAloneAndBeginsWithTheVerdict) {
    const Scratch scratch;
    const std::string ready = scratch.write("ready.toml", ready_text());
    const std::string open = scratch.write("open.toml", demo_text());
    const std::string broken = scratch.write("broken.toml", ready_with("fuse_a = 3 ", "#"));
    for (const char* form : {"", " --csv", " --markdown", " --json"}) {
        EXPECT_EQ(scratch.run("checklist " + ready + form).exit_code, 0) << form;
        EXPECT_EQ(scratch.run("checklist " + open + form).exit_code, 1) << form;
        EXPECT_EQ(scratch.run("checklist " + broken + form).exit_code, 1) << form;
    }
    EXPECT_EQ(scratch.run("checklist " + ready).out.rfind("READY FOR INSPECTION\n", 0), 0u);
    EXPECT_EQ(scratch.run("checklist " + open).out.rfind("OPEN: ", 0), 0u);
    EXPECT_EQ(scratch.run("checklist " + broken).out.rfind("NOT READY: 1 finding of the wiring", 0), 0u);
    EXPECT_EQ(scratch.run("checklist " + ready + " --markdown").out.rfind("# READY FOR INSPECTION\n", 0), 0u);
}

} // namespace
} // namespace winkhold::testing
