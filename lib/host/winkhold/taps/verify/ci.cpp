// The regression suite for continuous integration: JUnit XML and TAP.
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/taps/verify/report.hpp"

#include <fmt/format.h>
#include <pugixml.hpp>
#include <sstream>

namespace winkhold::taps {
namespace {

/// TAP takes '#' for the start of a directive.
std::string tap_description(const std::string& text) {
    std::string escaped;
    for (const char c : legible(text)) {
        if (c == '\\' || c == '#') escaped += '\\';
        escaped += c;
    }
    return escaped;
}

} // namespace

std::string verify_junit(const VerifyRun& run) {
    pugi::xml_document document;
    pugi::xml_node suite = document.append_child("testsuites").append_child("testsuite");
    suite.append_attribute("name") = legible(run.folder).c_str();
    suite.append_attribute("tests") = run.results.size();
    suite.append_attribute("failures") = run.count(Outcome::differs);
    suite.append_attribute("errors") = run.count(Outcome::refused);
    suite.append_attribute("skipped") = 0;
    for (const CaseResult& result : run.results) {
        pugi::xml_node one = suite.append_child("testcase");
        one.append_attribute("classname") = "winkhold.verify";
        one.append_attribute("name") = legible(result.found.name).c_str();
        if (result.outcome == Outcome::passed) continue;
        pugi::xml_node wrong = one.append_child(result.outcome == Outcome::differs ? "failure" : "error");
        wrong.append_attribute("type") = std::string(name(result.outcome)).c_str();
        wrong.append_attribute("message") = what_is_wrong(result).c_str();
        wrong.text() = strips_around_difference(result).c_str();
    }
    std::ostringstream out;
    document.save(out, " ", pugi::format_default, pugi::encoding_utf8);
    return out.str();
}

std::string verify_tap(const VerifyRun& run) {
    std::string out = fmt::format("TAP version 13\n1..{}\n", run.results.size());
    int number = 0;
    for (const CaseResult& result : run.results) {
        const bool passed = result.outcome == Outcome::passed;
        out += fmt::format("{} {} - {}\n", passed ? "ok" : "not ok", ++number,
                           tap_description(result.found.name));
        if (passed) continue;
        // a JSON text is a YAML scalar
        out += fmt::format("  ---\n  message: {}\n  severity: {}\n  ...\n", json_line(what_is_wrong(result)),
                           result.outcome == Outcome::differs ? "fail" : "error");
    }
    return out;
}

} // namespace winkhold::taps
