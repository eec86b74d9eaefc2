#include "support.hpp"

#include <rapidcheck/gtest.h>
#include <sstream>

using namespace capture_test;
using winkhold::host::TimeUs;

namespace {

std::string csv(const Trace& trace) {
    std::ostringstream out;
    winkhold::host::write_csv(out, trace);
    return out.str();
}

std::string vcd(const Trace& trace) {
    std::ostringstream out;
    winkhold::host::write_vcd(out, trace);
    return out.str();
}

// Any trace: times may be equal, and edges may change nothing.
Trace any_trace() {
    Trace trace;
    TimeUs t_us = *rc::gen::element<TimeUs>(0, 1, 1'000'000, 300'000'000'000'000);
    const auto steps_us = *rc::gen::container<std::vector<TimeUs>>(
        rc::gen::element<TimeUs>(0, 1, 8, 999, 1'000, 330'000, 86'400'000'000));
    for (const TimeUs step_us : steps_us) {
        trace.edges.push_back({t_us, lines(*rc::gen::inRange(0u, 32u))});
        t_us += step_us;
    }
    trace.end_us = trace.edges.empty() ? t_us : trace.edges.back().t_us + *rc::gen::inRange<TimeUs>(0, 3);
    return trace;
}

// The edges that change something, from an explicit start at 0 on.
std::vector<Edge> changes(const Trace& trace) {
    std::vector<Edge> result;
    if (trace.edges.empty() || trace.edges.front().t_us > 0) result.push_back({});
    for (const Edge& edge : trace.edges) {
        if (result.empty() || result.back().lines != edge.lines) result.push_back(edge);
    }
    return result;
}

} // namespace

RC_GTEST_PROP(RoundTrip, CsvGivesTheSameTrace, ()) {
    const Trace trace = any_trace();
    const Trace again = read(csv(trace));
    RC_ASSERT(again.edges == changes(trace));
    RC_ASSERT(again.end_us == trace.end_us);
}

RC_GTEST_PROP(RoundTrip, VcdGivesTheSameTrace, ()) {
    const Trace trace = any_trace();
    const Trace again = read(vcd(trace));
    RC_ASSERT(again.edges == changes(trace));
    RC_ASSERT(again.end_us == trace.end_us);
}

TEST(RoundTrip, CsvHoldsTheStartAndTheEnd) {
    EXPECT_EQ(csv({edges({{5, 1}, {9, 0}}), 20}), "time_us,left,right\n0,0,0\n5,1,0\n9,0,0\n20,0,0\n");
    EXPECT_EQ(csv({edges({{0, 2}, {9, 18}}), 9}), "time_us,left,right,supply\n0,0,1,0\n9,0,1,1\n");
    EXPECT_EQ(csv({{}, 0}), "time_us,left,right\n0,0,0\n");
}

TEST(RoundTrip, VcdHoldsTheStartAndTheEnd) {
    const std::string head = "$timescale 1 us $end\n$scope module winkhold $end\n$var wire 1 l left $end\n"
                             "$var wire 1 r right $end\n";
    const std::string behind = "$upscope $end\n$enddefinitions $end\n#0\n$dumpvars\n";
    EXPECT_EQ(vcd({edges({{5, 1}, {9, 0}}), 20}), head + behind + "0l\n0r\n$end\n#5\n1l\n#9\n0l\n#20\n");
    EXPECT_EQ(vcd({edges({{0, 2}, {9, 6}, {12, 6}}), 12}),
              head + "$var wire 1 b brake $end\n" + behind + "0l\n1r\n0b\n$end\n#9\n1b\n#12\n");
    EXPECT_EQ(vcd({{}, 0}), head + behind + "0l\n0r\n$end\n");
}

TEST(RoundTrip, LongTracesAreWrittenWhole) {
    Trace trace;
    for (int i = 0; i < 50'000; ++i)
        trace.edges.push_back({i * 1'000, lines(1u + static_cast<unsigned>(i % 2))});
    trace.end_us = 50'000'000;
    EXPECT_EQ(read(csv(trace)).edges, trace.edges);
    EXPECT_EQ(read(vcd(trace)).edges, trace.edges);
    EXPECT_EQ(read(vcd(trace)).end_us, trace.end_us);
}
