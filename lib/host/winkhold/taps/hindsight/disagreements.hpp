/// Where the causal decoder's answer differs from the smoother's by more than it must.
#pragma once

#include "winkhold/taps/hindsight/hindsight.hpp"

#include <string_view>

namespace winkhold::taps {

/// In which way the causal answer is the worse one.
enum class Disagreement {
    dropout,      ///< a side goes out while the smoother still shows it
    overlap,      ///< a side is still shown beside the other one, which alone is asked for
    late_release, ///< a side is still shown though nothing is asked for
    false_show,   ///< a side goes on that is not asked for
    late_acquire, ///< a side is not shown yet
};

/// Its word in tables and JSON.
constexpr std::string_view name(Disagreement kind) {
    constexpr std::string_view names[] = {"dropout", "overlap", "late-release", "false-show", "late-acquire"};
    return names[static_cast<std::size_t>(kind)];
}

/// What any causal decoder must be allowed. Unit: us.
struct Allowance {
    TimeUs acquire_us{0};                   ///< from the smoother's start of a side
    std::array<TimeUs, 2> release_us{0, 0}; ///< left, right: from the smoother's end of the side
    std::array<TimeUs, 2> flash_us{0, 0};   ///< left, right: a side asked for no longer (one flash),
    TimeUs unknown_until_us{0};             ///< or that the smoother ends until here
    TimeUs unknown_release_us{0};           ///< may take this long
    std::array<TimeUs, 2> carried_us{0,
                                     0}; ///< left, right: and so much more beside the other side of a hazard
    TimeUs overlap_us{0};                ///< from where the smoother begins to show the other side alone
    TimeUs early_us{0};                  ///< a side may go out this much before the smoother ends it
};

/// - acquire: settle, and the handover window, within which a hazard's second side may rise; or a blink,
/// which
///   a newcomer must stand for, if that is longer
/// - release: until the longest gap that this line's rhythm still allows (all but 1e-6) has passed, and then
///   settle and guard, and with `spread` half the gap: the decoder adds an eighth and a quarter while it
///   trusts few flashes, and as much as the known gaps lie apart. For a line without a known gap 1 s, the
///   longest gap that can be rhythm at all. As long as too few gaps are known for anybody (a tip of three
///   flashes has two), and after a single flash, with a paced hold, `hold` and settle. Where a hazard becomes
///   a turn, until that turn has flashed alone: a flash more
/// - overlap: settle and the handover window (its default if it is off: a hazard can't be told from a side
///   change sooner) or a blink, and 1 us since the window's end still belongs to it
/// - early: the handover window, within which a hazard's second side may fall; a cancel that cuts its first
///   side short lets that one go at once
///
/// Nothing else is allowed for dropouts, and nothing for false shows. A light that is cut short would let a
/// decoder release at once; one that waits for the gap instead is not blamed.
Allowance allowance(const Smoothed& smoothed, const core::Settings& settings);

/// One stretch in which the answers differ beyond what is allowed.
struct Disagreeing {
    TimeUs from_us{0}; ///< where the allowance ends
    TimeUs to_us{0};
    core::Indication causal{core::Indication::off}; ///< its longest answer meanwhile
    core::Indication smoother{core::Indication::off};
    Disagreement kind{Disagreement::dropout};

    friend bool operator==(const Disagreeing&, const Disagreeing&) = default;
};

/// Both timelines up to `end_us`. In order of time, not overlapping; each of one kind and with one answer of
/// the smoother. Where the two sides differ in different ways, the kind that stands first in Disagreement.
std::vector<Disagreeing> disagreements(const Timeline& causal, const Timeline& smoother,
                                       const Allowance& allowance, TimeUs end_us);

} // namespace winkhold::taps
