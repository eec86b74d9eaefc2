#include "commands.hpp"
#include "format.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/bike/checklist/labels.hpp"
#include "winkhold/bike/checklist/owner.hpp"
#include "winkhold/bike/checklist/parts.hpp"
#include "winkhold/bike/checklist/report.hpp"
#include "winkhold/bike/checklist/work.hpp"

namespace winkhold::app {
namespace {

struct Checklist {
    std::string vehicle;
    std::string paper{"checklist"};
    FormatChoice format;

    void declare(Command& command) {
        command.name = "checklist";
        command.summary = "From bench to road: measurements judged, settings, versions, the way back";
        command.argument("VEHICLE", vehicle, "vehicle file; [[measured]] holds what you measured")
            .reading(Reads::vehicle);
        command.word(
            "--paper", {"checklist", "work", "entries", "labels", "parts", "owner"}, paper,
            "what to print: the checklist; work: to fill in by hand, a page a stage; entries: "
            "[[measured]] tables for what is open; labels: of all cables; parts: to buy; owner: plain "
            "words for who rides it");
        format.add_to(command, {Format::csv, Format::markdown, Format::json});
        command.notes =
            "The first line says READY FOR INSPECTION, OPEN or NOT READY, of the points and of what "
            "electrics, limits, sequence and wiring find in the same file. Exit code 0 only if it "
            "is ready, whatever paper is printed; what nobody measured, or nobody knows, is open.";
        command.example_for = "a checklist to print";
        command.example = {"winkhold checklist bike.toml --markdown > checklist.md"};
    }

    int run() const {
        const host::Vehicle bike = host::Vehicle::read(vehicle);
        const host::Checklist checklist = host::checklist_of(bike, "winkhold " WINKHOLD_VERSION);
        print(bike, checklist);
        return checklist.readiness.verdict() == host::Verdict::ready ? 0 : 1;
    }

    void print(const host::Vehicle& bike, const host::Checklist& checklist) const {
        if (paper == "labels")
            return format.print({.text = [&] { return host::labels_text(bike); },
                                 .json = [&] { return host::labels_json(bike); },
                                 .csv = [&] { return host::labels_csv(bike); },
                                 .markdown = [&] { return host::labels_markdown(bike); }});
        if (paper == "parts") {
            const host::PartsList parts = host::parts_of(bike);
            return format.print({.text = [&] { return host::parts_text(parts); },
                                 .json = [&] { return host::parts_json(parts); },
                                 .csv = [&] { return host::parts_csv(parts); },
                                 .markdown = [&] { return host::parts_markdown(parts); }});
        }
        if (paper == "owner") {
            const host::OwnerSheet owner = host::owner_sheet_of(bike, checklist);
            return format.print({.text = [&] { return host::owner_text(owner); },
                                 .json = [&] { return host::owner_json(owner); },
                                 .csv = [&] { return host::owner_csv(owner); },
                                 .markdown = [&] { return host::owner_markdown(owner); }});
        }
        if (paper == "entries" && format.chosen() != Format::text)
            throw host::InputError(
                "--paper entries is text for the vehicle file: leave out --csv, --markdown and "
                "--json");
        const bool is_work = paper == "work";
        format.print({.text =
                          [&] {
                              return paper == "entries" ? host::entries_toml(checklist)
                                     : is_work          ? host::work_text(checklist)
                                                        : host::checklist_text(checklist);
                          },
                      .json = [&] { return host::checklist_json(checklist); },
                      .csv = [&] { return host::checklist_csv(checklist); },
                      .markdown =
                          [&] {
                              return is_work ? host::work_markdown(checklist)
                                             : host::checklist_markdown(checklist);
                          }});
    }
};

} // namespace

Command checklist_command() {
    return command_of<Checklist>();
}

} // namespace winkhold::app
