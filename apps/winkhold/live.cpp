#include "commands.hpp"
#include "live_session.hpp"
#include "output.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/time.hpp"

namespace winkhold::app {
namespace {

struct Live {
    LivePlan plan;
    std::string length;
    Force force;

    void declare(Command& command) {
        command.name = "live";
        command.summary = "Watch and tune a board on its serial port, at standstill";
        command.argument("PORT", plan.port, "the board's serial port, like /dev/ttyUSB0 (250000 baud)");
        command
            .text("--vehicle", "FILE", plan.vehicle,
                  "vehicle file that the board was built from; a board of another one is not tuned")
            .reading(Reads::vehicle)
            .excludes = {"--onto"};
        command
            .text("--onto", "FILE", plan.onto,
                  "the same file, whose [decoder] takes what is stored on the board at the end; all else in "
                  "it stays. Shows what it changes")
            .changing(Reads::vehicle);
        command
            .flag("--walk", plan.walk,
                  "ask for each function in turn, and write what was found into that file as [[measured]]")
            .only_with("--onto");
        command.text("--record", "FILE", plan.record,
                     "write what comes as it comes; every command reads it, also after a kill");
        command.text("--for", "TIME", length, "end after so long");
        force.add_to(command);
        command.notes =
            "At standstill only, never while riding; keep the factory tell-tales. In a terminal it is a "
            "screen with keys, in a pipe plain lines. Exit code 1 if nothing was heard, lines were "
            "lost, or the board showed something else than its own taps and settings lead to; 2 if "
            "the port can't be opened.";
        command.example_for = "a board on a USB adapter, recorded";
        command.example = {"winkhold live /dev/ttyUSB0 --vehicle bike.toml --record walk.log"};
    }

    int run() const {
        LivePlan chosen = plan;
        if (!length.empty()) {
            chosen.for_us = host::parse_duration_us(length, "--for");
            if (chosen.for_us == 0) throw host::InputError("--for 0: give a time, like 30s");
        }
        chosen.replace = force.given();
        return run_live(chosen);
    }
};

} // namespace

Command live_command() {
    return command_of<Live>();
}

} // namespace winkhold::app
