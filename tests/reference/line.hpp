/// One line to the reference decoder: where it is in the rhythm.
#pragma once

#include "reference/settled.hpp"

#include <optional>

namespace winkhold::reference {

/// A light that has not stood for a blink yet, or has gone before it had.
struct Glint {
    TimeUs from_us{0};
    bool on{true};
    bool shown{false};
    bool after_gap{false}; ///< of this line's rhythm
    bool soon{false};      ///< after a gap too short
    bool skewed{false};    ///< too short, but in a hazard, where this lamp may have fallen late
    bool late{false};      ///< after a gap too long
    int came_back{0};
};

/// The last flash of a line.
struct Flash {
    TimeUs from_us{0};
    bool on{false};
    bool cut{false};                     ///< taken for one cut short
    std::optional<TimeUs> cut_from_us{}; ///< the moment from which that is so
};

struct Line {
    std::optional<Flash> flash{}; ///< none: silent
    std::optional<Glint> glint{};
    TimeUs lit_from_us{0}; ///< the last light, whatever it was a part of
    TimeUs last_high_us{-never_us};
    bool asked{false};
    bool beat{false};  ///< the last flash, even before a silence, began on a beat: it may be judged
    bool usual{false}; ///< this request has had a flash no shorter than usual
    bool excused{false};
    bool cut_known{false};
    TimeUs odd_gap{0};

    bool stuck{false};
    bool gap() const { return !stuck && !glint && flash && !flash->on; }
    bool lit() const { return !stuck && !glint && flash && flash->on; }
    bool on() const { return stuck || lit() || (glint && glint->on); }
    bool burns() const { return stuck || lit() || (glint && glint->on && glint->shown); }
    bool silent() const {
        if (glint) return !glint->after_gap && !glint->shown;
        return !stuck && !flash;
    }
    bool runs() const { return asked && !silent(); }
    bool newcomer() const { return !asked || silent(); }
    /// Its first light has gone within a blink, and may yet come back.
    bool flicked() const { return glint && !glint->on && !glint->after_gap; }
    /// The silence that begins comes after a flash of the rhythm, so the rhythm tells how long it may last.
    bool on_beat() const { return beat && !excused && !flicked(); }
    bool flashing(TimeUs t_us) const {
        return (lit() && t_us - lit_from_us <= longest_gap_us) ||
               (!stuck && glint && glint->on && glint->shown);
    }
    bool rose_within(TimeUs window_us, TimeUs t_us) const {
        if (stuck || (!flash && !glint) || (glint && !glint->on && !glint->shown)) return false;
        return t_us - (glint ? glint->from_us : flash->from_us) <= window_us;
    }
    bool is_cut(TimeUs t_us) const { return gap() && flash->cut && *flash->cut_from_us <= t_us; }

    /// When it becomes something else, if its tap stays as it is.
    TimeUs deadline_us() const {
        if (stuck) return never_us;
        if (glint) return glint->from_us + (glint->on ? 1 : 2) * blink_us;
        if (!flash) return never_us;
        if (flash->on) return lit_from_us + longest_on_us;
        return flash->cut && !cut_known ? *flash->cut_from_us : last_high_us + longest_gap_us;
    }
};

} // namespace winkhold::reference
