#include "commands.hpp"
#include "format.hpp"
#include "output.hpp"

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

    void declare(Command& command) {
        command.name = "verify";
        command.summary = "Decode recordings whose answer is known";
        command.argument("FOLDER", folder, "holds cases, each a folder with a case.toml")
            .reading(Reads::folder);
        command.text("--junit", "FILE", junit, "also write JUnit XML to this file; - instead of the rest");
        format.add_to(command, {Format::tap, Format::json});
        command.flag("--accept", accept,
                     fmt::format("write each differing answer as {} beside what is expected, for you to "
                                 "look at and to rename; never touches what is expected",
                                 host::candidate_file));
        force.add_to(command);
        command.notes = "Exit code 1 if an answer differs, 2 if a case can't be read or there is none.";
        command.example_for = "all cases, with a report for CI";
        command.example = {"winkhold verify data/recordings --junit verify.xml"};
    }

    int run() const {
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
