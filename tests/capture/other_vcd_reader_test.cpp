/// What others make of our VCD files. `vcd2fst` and `fst2vcd`, from Debian's package gtkwave, read and write
/// value change dumps as IEEE 1364-2005, clause 18, defines them; they share no code with ours. Both have to
/// be there.
#include "support.hpp"

#include <cstdlib>
#include <rapidcheck/gtest.h>

using namespace capture_test;

namespace {

// Our dump of `trace`, through the other reader and its writer, as we read it then.
Trace through_others(const Trace& trace) {
    const TempFile ours;
    const TempFile binary;
    const TempFile theirs;
    std::ofstream file(ours.path());
    winkhold::host::write_vcd(file, trace);
    file.close();
    const std::string command =
        fmt::format("vcd2fst '{}' '{}' >/dev/null && fst2vcd -f '{}' -o '{}' >/dev/null", ours.path(),
                    binary.path(), binary.path(), theirs.path());
    const int status = std::system(command.c_str());
    if (status != 0)
        throw std::runtime_error("failed (Debian's package gtkwave has these tools): " + command);
    return read_file(theirs.path());
}

} // namespace

TEST(OtherVcdReader, SeesTheEdgesThatWereWritten) {
    const Trace trace{
        edges({{0, 16}, {250, 17}, {400, 18}, {401, 31}, {5'000'000'000, 0}, {5'000'000'001, 3}}),
        5'000'000'001};
    const Trace seen = through_others(trace);
    EXPECT_EQ(seen.edges, trace.edges);
    EXPECT_EQ(seen.end_us, trace.end_us);
}

TEST(OtherVcdReader, SeesAnyTrace) {
    EXPECT_TRUE(rc::check("the same edges come back", [] {
        Trace trace{edges({{0, 0}}), 0};
        for (const bool left : *rc::gen::container<std::vector<bool>>(20, rc::gen::arbitrary<bool>())) {
            const Edge& last = trace.edges.back();
            const unsigned flipped = left ? Lines::left : Lines::right;
            trace.edges.push_back(
                {last.t_us + *rc::gen::inRange(1, 500'000), lines(last.lines.bits() ^ flipped)});
        }
        trace.end_us = trace.edges.back().t_us;
        RC_ASSERT(through_others(trace).edges == trace.edges);
    }));
}
