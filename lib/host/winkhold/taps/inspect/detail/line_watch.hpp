/// One line as it is watched: raw counts, and lights for both polarities and both ways of chopping.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

namespace winkhold::taps {

class LineWatch {
public:
    void level(TimeUs t_us, bool high);
    LineView finish(TimeUs end_us, TimeUs tick_us);

private:
    /// Lights of one polarity: chopped lights bridged; or, for a line whose dark is chopped, long highs only.
    struct Finders {
        LightFinder bridged{unrest_us, least_light_us};
        LightFinder steady{0, unrest_us};
    };
    static constexpr TimeUs least_light_us = 20'000; ///< shorter is no flash: 80 ms with a lamp out (derived)

    void count_run(TimeUs t_us);
    Polarity polarity() const;

    bool started_{false};
    bool high_{false};
    TimeUs start_us_{0};
    TimeUs since_us_{0};
    std::int64_t changes_{0};
    TimeUs total_us_[2]{};   ///< low, high
    TimeUs longest_us_[2]{}; ///< low, high
    std::array<std::int64_t, 3> below_[2]{};
    Finders finders_[2]; ///< a low is lit, a high is lit
};

} // namespace winkhold::taps
