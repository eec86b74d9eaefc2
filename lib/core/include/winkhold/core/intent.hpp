/// Two lines -> what the rider asked for: hazard coincidence and handover.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/core/settings.hpp"

namespace winkhold {
namespace core {

/// Decides when a side that rises takes over from the other. Looks at settled edges only, so its verdicts
/// are the same for every hold time.
///
/// Both sides rising within the handover window are a hazard. A side that rises alone opens the window;
/// when it ends, the other side is let go, unless it is lit right then: a side change never lights both.
class Handover {
public:
    /// `side` rose at `now`. `other_held`: the other side is shown. `other_rose`: it rose within the window.
    constexpr void rise(Side side, Micros now, bool other_held, bool other_rose, const Settings& s) {
        if (s.handover_us == 0) return;
        if (other_rose)
            open_ = false;
        else if (other_held && !open_) {
            open_ = true;
            newcomer_ = side;
            ends_ = after(now, s.handover_us);
        }
    }

    /// True once, when the window has ended: the side other than newcomer() is to be let go unless lit.
    constexpr bool expire(Micros now) {
        if (!alarm().due(now)) return false;
        open_ = false;
        return true;
    }
    constexpr Alarm alarm() const { return Alarm{open_, ends_}; }
    constexpr Side newcomer() const { return newcomer_; }

private:
    Micros ends_{};
    Side newcomer_{Side::left};
    bool open_{false};
};

} // namespace core
} // namespace winkhold
