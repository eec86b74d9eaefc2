#include "commands.hpp"
#include "options.hpp"

#include "winkhold/host/report/verify_report.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

struct Verify {
    std::string folder;
    std::string junit;
    bool tap{false};
    bool json{false};
    bool accept{false};

    int run() const {
        const host::VerifyRun run = host::verify_cases(folder);
        if (!junit.empty()) write(junit, host::verify_junit(run));
        if (junit != "-")
            write("-", tap ? host::verify_tap(run) : json ? host::verify_json(run) : host::verify_text(run));
        if (accept)
            for (const std::string& path : host::write_candidates(run))
                fmt::print(stderr, "{}: look at it, then rename it to {}\n", path, host::expected_file);
        if (run.count(host::Outcome::refused) > 0) return 2;
        return run.count(host::Outcome::differs) > 0 ? 1 : 0;
    }

    static void write(const std::string& path, const std::string& text) {
        Output out(path);
        out.stream() << text;
        out.finish();
    }
};

} // namespace

CLI::App* add_verify(CLI::App& program, Run& run) {
    CLI::App* command = program.add_subcommand("verify", "Decode recordings whose answer is known");
    const auto options = std::make_shared<Verify>();
    command->add_option("FOLDER", options->folder, "holds cases, each a folder with a case.toml")->required();
    command->add_option("--junit", options->junit,
                        "also write JUnit XML to this file; - instead of the rest");
    CLI::Option* tap = command->add_flag("--tap", options->tap, "write TAP, the Test Anything Protocol");
    command->add_flag("--json", options->json, "write JSON (schema in the README)")->excludes(tap);
    command->add_flag("--accept", options->accept,
                      "write each differing answer as expected.candidate.csv beside what is expected, for\n"
                      "you to look at and to rename; never touches what is expected");
    command->footer("Exit code 1 if an answer differs, 2 if a case can't be read or there is none.\n"
                    "Example: all cases, with a report for CI\n"
                    "  winkhold verify data/recordings --junit verify.xml");
    command->callback([options, &run] { run = [options] { return options->run(); }; });
    return command;
}

} // namespace winkhold::app
