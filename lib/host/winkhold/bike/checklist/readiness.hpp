/// The one answer of the checklist: may somebody licensed be asked to look at this bike, or not yet?
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::bike {

/// What it all comes to.
enum class Verdict {
    ready,     ///< nothing is found wrong, nothing is open
    open,      ///< nothing is found wrong, but something is not measured, not known, or the example's
    not_ready, ///< something is found wrong
};

/// Its word in JSON.
constexpr std::string_view name(Verdict verdict) {
    constexpr std::string_view names[] = {"ready", "open", "not-ready"};
    return names[static_cast<std::size_t>(verdict)];
}

/// Where a reason is from.
enum class Judge { points, electrics, limits, sequence, wiring, facts, example };
inline constexpr std::array all_judges{Judge::points, Judge::electrics, Judge::limits, Judge::sequence,
                                       Judge::wiring, Judge::facts,     Judge::example};

/// Its word in tables and JSON.
constexpr std::string_view name(Judge judge) {
    constexpr std::string_view names[] = {"points", "electrics", "limits", "sequence",
                                          "wiring", "facts",     "example"};
    return names[static_cast<std::size_t>(judge)];
}

/// One thing that is wrong or missing.
struct Reason {
    Judge judge;
    std::string text; ///< a sentence
};

/// The verdict, and what it rests on.
struct Readiness {
    std::vector<Reason> against; ///< what is wrong: any of it makes the bike not ready
    std::vector<Reason> missing; ///< what is open or can't be judged: never taken for passed
    std::uint32_t crc32{0};      ///< of what was judged: the vehicle's files in order, and the program

    /// Wrong beats missing.
    Verdict verdict() const {
        if (!against.empty()) return Verdict::not_ready;
        return missing.empty() ? Verdict::ready : Verdict::open;
    }
};

/// The paper's first line: "READY FOR INSPECTION"; "OPEN: 12 points"; "NOT READY: 1 limit; open besides: 3
/// points".
std::string verdict_line(const Readiness& readiness);
/// What this line is worth: it doesn't certify.
inline constexpr std::string_view no_certificate =
    "This paper certifies nothing: local rules and somebody licensed do. Ready means that nothing "
    "Winkhold looks at is known to be wrong or open.";

/// CRC-32 of all files' CRC-32 in order, and of what judged them.
std::uint32_t judged_crc32(const std::vector<Vehicle::File>& files, const std::string& program);

} // namespace winkhold::bike
