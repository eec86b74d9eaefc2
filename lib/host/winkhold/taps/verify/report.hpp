/// `winkhold verify`: what became of each case.
#pragma once

#include "winkhold/taps/verify/run.hpp"

#include <string>
#include <string_view>

namespace winkhold::taps {

/// Its word in tables, TAP, JUnit XML and JSON.
constexpr std::string_view name(Outcome outcome) {
    constexpr std::string_view names[] = {"passed", "differs", "refused"};
    return names[static_cast<std::size_t>(outcome)];
}
/// Its word in case files, tables and JSON.
constexpr std::string_view name(Origin origin) {
    constexpr std::string_view names[] = {"synthetic", "edited", "real"};
    return names[static_cast<std::size_t>(origin)];
}

/// "late: hazard expected at 1.025000 s, came at 1.030000 s". Empty for a case that passed.
std::string what_is_wrong(const CaseResult& result);

/// Lines, expected and given answer as strips around the first difference. Empty without one.
std::string strips_around_difference(const CaseResult& result);

/// For people: a line for each case, strips where one differs, and a summary.
std::string verify_text(const VerifyRun& run);

/// Schema winkhold.verify/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string verify_json(const VerifyRun& run);

/// For CI: JUnit XML, one testcase each; differs is a failure, refused an error. The same run gives the same
/// bytes, so there are no times in it.
std::string verify_junit(const VerifyRun& run);

/// For CI: Test Anything Protocol, version 13.
std::string verify_tap(const VerifyRun& run);

} // namespace winkhold::taps
