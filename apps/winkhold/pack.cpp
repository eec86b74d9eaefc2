#include "commands.hpp"
#include "output.hpp"

#include "winkhold/base/output_folder.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/bike/pack/pack.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

struct Pack {
    std::string vehicle;
    std::string folder;
    bool headers{false};

    void declare(Command& command) {
        command.name = "pack";
        command.summary = "Write all that it takes to flash this bike's board";
        command.argument("VEHICLE", vehicle, "vehicle file (.toml)").reading(Reads::vehicle);
        command.argument("DIR", folder, "folder to write, which isn't there yet or is empty");
        command.flag("--headers", headers,
                     "for a firmware of your own: the core and bike.hpp, with an example");
        command.notes =
            "Nothing is written for a bike that the board can't serve, or with settings that are unsafe "
            "on one: exit code 2, with the reason.";
        command.example_for = "the demo bike's board";
        command.example = {"winkhold pack data/vehicles/demo.toml demo-board"};
    }

    int run() const {
        const host::Pack pack = host::pack_of(host::Vehicle::read(vehicle),
                                              headers ? host::PackKind::headers : host::PackKind::firmware,
                                              "winkhold " WINKHOLD_VERSION);
        host::OutputFolder out(folder);
        for (const host::PackedFile& file : pack.files)
            out.add(file.path, file.text);
        out.finish();
        Output::print(
            fmt::format("Wrote {}: {} files, vehicle hash {:08x}.\n"
                        "Read README.md in it first; \"make check\" there tries it without a board.\n\n{}",
                        folder, pack.files.size(), pack.hash, host::caution));
        return 0;
    }
};

} // namespace

Command pack_command() {
    return command_of<Pack>();
}

} // namespace winkhold::app
