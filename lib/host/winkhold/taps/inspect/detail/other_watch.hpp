/// A tap that does not flash, as it is watched.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

namespace winkhold::taps {

class OtherWatch {
public:
    explicit OtherWatch(core::Lines::Tap tap) { seen_.tap = tap; }
    void level(TimeUs t_us, core::Lines lines);
    /// None if it never was high: then it is not recorded, or never used.
    std::optional<OtherTap> finish(TimeUs end_us);

private:
    void end_level(TimeUs t_us);

    OtherTap seen_;
    bool started_{false};
    bool high_{false};
    TimeUs start_us_{0};
    TimeUs since_us_{0};
    TimeUs high_us_{0};
};

} // namespace winkhold::taps
