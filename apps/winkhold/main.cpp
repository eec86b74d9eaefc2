#include "commands.hpp"

#include "winkhold/host/error.hpp"
#include "winkhold/host/report/names.hpp"

#include <cstdio>
#include <fmt/format.h>

namespace {
constexpr int bad_usage_or_input = 2;
}

int main(int argc, char** argv) {
    using namespace winkhold;
    CLI::App program("Decode flashing turn-signal lines into one steady answer.");
    program.name("winkhold");
    program.set_version_flag("--version", WINKHOLD_VERSION);
    program.footer(std::string(host::caution));
    program.require_subcommand(1);
    app::Run run;
    app::add_simulate(program, run);
    app::add_decode(program, run);
    app::add_sweep(program, run);
    app::add_faults(program, run);
    app::add_soak(program, run);
    app::add_compare(program, run);
    app::add_worth(program, run);
    app::add_verify(program, run);
    app::add_inspect(program, run);
    app::add_fit(program, run);
    app::add_rules(program, run);
    app::add_sequence(program, run);
    app::add_electrics(program, run);
    app::add_new(program, run);
    app::add_wiring(program, run);
    app::add_handover(program, run);
    try {
        program.parse(argc, argv);
        return run();
    } catch (const CLI::Success& asked_for_help) {
        return program.exit(asked_for_help);
    } catch (const CLI::ParseError& error) {
        fmt::print(stderr, "winkhold: {}; see winkhold --help\n", error.what());
    } catch (const std::exception& error) {
        fmt::print(stderr, "winkhold: {}\n", error.what());
    }
    return bad_usage_or_input;
}
