#include "commands.hpp"
#include "format.hpp"
#include "output.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/taps/verify/mark_case.hpp"
#include "winkhold/taps/verify/report.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

struct Verify {
    std::string folder;
    std::string junit;
    bool accept{false};
    Force force;
    FormatChoice format;
    std::string from;
    int mark{1};
    std::string show;

    void declare(Command& command) {
        command.name = "verify";
        command.summary = "Decode recordings whose answer is known";
        command
            .argument("FOLDER", folder,
                      "holds cases, each a folder with a case.toml; with --from the new case's folder")
            .reading(Reads::folder);
        command.text("--junit", "FILE", junit, "also write JUnit XML to this file; - instead of the rest");
        format.add_to(command, {Format::tap, Format::json});
        command.flag("--accept", accept,
                     fmt::format("write each differing answer as {} beside what is expected, for you to "
                                 "look at and to rename; never touches what is expected",
                                 host::candidate_file));
        command
            .text("--from", "RECORDING", from,
                  "make a case of a mark in a log that winkhold live has recorded, in place of verifying")
            .reading(Reads::recording)
            .excludes = {"--junit", "--json", "--tap", "--accept"};
        command.number("--mark", mark, 1, 1'000'000, "with --from: which mark").only_with("--from");
        command
            .word("--show", {"off", "left", "right", "hazard"}, show,
                  "with --from: what should have been shown at the mark; else what the decoder makes of the "
                  "taps is expected")
            .only_with("--from");
        force.add_to(command);
        command.notes = "Exit code 1 if an answer differs, 2 if a case can't be read or there is none.";
        command.example_for = "all cases, with a report for CI";
        command.example = {"winkhold verify data/recordings --junit verify.xml"};
    }

    int run() const {
        if (!from.empty()) {
            std::optional<core::Indication> should_show;
            for (const auto one : {core::Indication::off, core::Indication::left, core::Indication::right,
                                   core::Indication::hazard})
                if (show == host::name(one)) should_show = one;
            fmt::print(stderr, "{}", host::make_case_of_mark(from, mark, folder, should_show));
            return 0;
        }
        const host::VerifyRun run = host::verify_cases(folder);
        if (!junit.empty()) Output::write(junit, force.given(), host::verify_junit(run));
        if (junit != "-")
            format.print({.text = [&] { return host::verify_text(run); },
                          .json = [&] { return host::verify_json(run); },
                          .tap = [&] { return host::verify_tap(run); }});
        if (accept)
            for (const std::string& path : host::write_candidates(run, force.given()))
                fmt::print(stderr, "{}: look at it, then rename it to {}\n", path, host::expected_file);
        if (run.count(host::Outcome::refused) > 0) return 2;
        return run.count(host::Outcome::differs) > 0 ? 1 : 0;
    }
};

} // namespace

Command verify_command() {
    return command_of<Verify>();
}

} // namespace winkhold::app
