// What is cut off, and what nobody looks after.
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using End = WireEnd::Kind;

} // namespace

void judge_kept(WiringSheet& sheet) {
    for (const Wire& wire : sheet.wiring.wires) {
        if (!wire.cuts) continue;
        std::string loses;
        const WireEnd* const tap = wire.end(End::tap);
        for (const Kept& kept : sheet.wiring.kept)
            if (tap != nullptr && kept.line == tap->name)
                loses += (loses.empty() ? "; this takes off " : ", ") + kept.name;
        sheet.findings.push_back(
            {Kind::cut_line, wire.where,
             fmt::format("{} cuts the factory line{}; tap it and leave it whole", wire_name(wire), loses)});
    }
    bool has_tell_tale = false;
    for (const Kept& kept : sheet.wiring.kept) {
        has_tell_tale = has_tell_tale || kept.kind == Kept::Kind::tell_tale;
        if (!kept.connected)
            sheet.findings.push_back(
                {Kind::kept_unplugged, kept.where,
                 fmt::format("{} \"{}\" must stay connected, but is not; plug it in again", name(kept.kind),
                             kept.name)});
    }
    if (!has_tell_tale) {
        sheet.not_judged.emplace_back(no_tell_tale);
        return;
    }
    // one pilot lamp for both sides has no line; a line that another side's has and this one's hasn't is a
    // gap
    const auto has_line = [&](std::string_view line) {
        return std::any_of(sheet.wiring.kept.begin(), sheet.wiring.kept.end(), [&](const Kept& kept) {
            return kept.kind == Kept::Kind::tell_tale && kept.line == line;
        });
    };
    for (const auto& [line, other] : {std::pair{"left", "right"}, {"right", "left"}})
        if (has_line(other) && !has_line(line) && !has_line(""))
            sheet.not_judged.push_back(fmt::format("tell-tales: [[keep]] names one of the {} line and none "
                                                   "of the {} line",
                                                   other, line));
}

} // namespace winkhold::bike
