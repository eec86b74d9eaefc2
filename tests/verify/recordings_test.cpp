// The project's own cases, data/recordings: that they pass is a test of its own (verify.recordings).
#include "verify/support.hpp"
#include "winkhold/taps/verify/run.hpp"

#include "reference/decode.hpp"

#include <set>

namespace winkhold::testing {
namespace {

const std::string folder = WINKHOLD_DATA "/recordings";

TEST(Recordings, EachIsKeptForAReasonOfItsOwn) {
    std::set<std::string> reasons;
    const auto found = host::find_cases(folder);
    EXPECT_GE(found.size(), 20u);
    for (const host::FoundCase& one : found)
        EXPECT_TRUE(reasons.insert(host::read_case(one.folder).provenance.reason).second) << one.name;
}

TEST(Recordings, EachFailsIfItsAnswerIsAMicrosecondOff) {
    for (const host::FoundCase& one : host::find_cases(folder)) {
        const host::VerifyCase read = host::read_case(one.folder);
        const host::Trace trace = host::read_all(*host::open_recording(read.recording, read.options));
        const host::Timeline answer = host::decode(trace, read.settings);
        for (std::size_t i = 0; i < answer.size(); ++i) {
            host::Timeline shifted = answer;
            shifted[i].t_us += read.tolerance_us + 1;
            EXPECT_TRUE(host::first_difference(*read.expected, shifted, read.tolerance_us)) << one.name;
        }
    }
}

// The reference decoder is written apart, from the words of lib/core/README.md.
TEST(Recordings, TheReferenceDecoderGivesTheExpectedAnswersToo) {
    for (const host::FoundCase& one : host::find_cases(folder)) {
        const host::VerifyCase read = host::read_case(one.folder);
        const host::Trace trace = host::read_all(*host::open_recording(read.recording, read.options));
        host::Timeline answer;
        for (const auto& [t_us, indication] : reference::decode(trace, read.settings))
            answer.push_back({t_us, indication});
        EXPECT_FALSE(host::first_difference(*read.expected, answer, read.tolerance_us)) << one.name;
    }
}

} // namespace
} // namespace winkhold::testing
