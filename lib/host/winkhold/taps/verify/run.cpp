#include "winkhold/taps/verify/run.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/output_file.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::taps {
namespace {

void verify(CaseResult& result) {
    result.read = read_case(result.found.folder);
    result.trace = read_all(*open_recording(result.read.recording, result.read.options));
    result.answer = decode(result.trace, result.read.settings);
    if (!result.read.expected)
        throw InputError(at_line(
            result.found.folder, 0,
            fmt::format("no {}; work it out, or take a candidate from --accept, look at it and rename it",
                        expected_file)));
    result.difference = first_difference(*result.read.expected, result.answer, result.read.tolerance_us);
    if (!result.difference) return;
    result.outcome = Outcome::differs;
}

} // namespace

std::size_t VerifyRun::count(Outcome outcome) const {
    return static_cast<std::size_t>(std::count_if(
        results.begin(), results.end(), [&](const CaseResult& result) { return result.outcome == outcome; }));
}

VerifyRun verify_cases(const std::string& folder) {
    VerifyRun run{folder, {}};
    for (FoundCase& found : find_cases(folder)) {
        CaseResult& result = run.results.emplace_back();
        result.found = std::move(found);
        try {
            verify(result);
        } catch (const InputError& error) {
            result.outcome = Outcome::refused;
            result.complaint = error.what();
        }
        if (result.outcome != Outcome::differs) result.trace = {};
    }
    return run;
}

std::vector<std::string> write_candidates(const VerifyRun& run, bool replace) {
    std::vector<std::string> paths;
    for (const CaseResult& result : run.results) {
        if (result.outcome == Outcome::passed || result.answer.empty()) continue;
        const std::string path = (std::filesystem::path(result.found.folder) / candidate_file).string();
        OutputFile file(path, replace);
        write_timeline_csv(file.stream(), result.answer);
        file.finish();
        paths.push_back(path);
    }
    return paths;
}

} // namespace winkhold::taps
