#include "winkhold/bike/checklist/detail/rooms.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/known.hpp"

#include <fmt/format.h>

namespace winkhold::bike {

void take_electrics(const Electrics& electrics, std::string_view kind, Readiness& readiness) {
    for (const Check& check : electrics.checks) {
        if (check.verdict == CheckVerdict::passed) continue;
        const bool is_wrong = check.verdict == CheckVerdict::finding;
        if (!is_wrong && check.part == "battery" && kind.ends_with("without-battery")) continue;
        std::string text = fmt::format("Electrics, {}: {}", check.part, check.what);
        if (is_wrong && check.value && check.limit)
            text +=
                fmt::format(", {:.4g}, {} {:.4g} {}", *check.value,
                            check.bound == Bound::at_most ? "at most" : "at least", *check.limit, check.unit);
        if (!is_wrong) text += ", not judged";
        if (!check.advice.empty()) text += ": " + check.advice;
        (is_wrong ? readiness.against : readiness.missing).push_back({Judge::electrics, text + "."});
    }
    if (electrics.checks.empty())
        readiness.missing.push_back({Judge::electrics, "Electrics: nothing could be judged."});
}

void take_wiring(const std::optional<WiringSheet>& sheet, Readiness& readiness) {
    if (!sheet) {
        readiness.missing.push_back({Judge::wiring, "Wiring: no wires are listed; enter [[wires]]."});
        return;
    }
    for (const WireFinding& finding : sheet->findings)
        readiness.against.push_back(
            {Judge::wiring, fmt::format("Wiring, {}: {}", finding.where, finding.text)});
    for (const std::string& text : sheet->not_judged)
        if (text != no_tell_tale) // a point asks for it
            readiness.missing.push_back({Judge::wiring, fmt::format("Wiring, not judged: {}", text)});
}

std::optional<Profile> profile_of(const Vehicle& vehicle) {
    if (vehicle.place().empty() || vehicle.kind().empty()) return {};
    try {
        return LimitBook::carried_along().profile(vehicle.place(), vehicle.kind());
    } catch (const InputError& error) {
        throw InputError(at_line(vehicle.path(), 0, error.what()));
    }
}

std::string why_no_rhythm(const Vehicle& vehicle) {
    if (vehicle.given("flasher.cycle"))
        return why_not_known(vehicle, std::vector<std::string>{"flasher.cycle"});
    return why_not_known(vehicle, std::vector<std::string>{"flasher.rate_per_min", "flasher.duty_percent"});
}

void take_examples(const Vehicle& vehicle, Readiness& readiness) {
    for (const Vehicle::Example& example : vehicle.examples())
        readiness.missing.push_back(
            {Judge::example,
             fmt::format("[{}] ({}:{}) is still the example's: enter your bike's values, then delete the "
                         "line \"example = true\".",
                         example.section, example.place.file, example.place.line)});
}

} // namespace winkhold::bike
