/// What the flashes of one line have taught so far. Durations are kept in units of 64 us, as the firmware
/// keeps them: on times rounded down (but at least one), gaps rounded up.
#pragma once

#include "reference/flashes.hpp"

namespace winkhold::reference {

class Learned {
public:
    explicit Learned(const core::Settings& settings) : settings_(settings) {}

    /// `before` (null: none) is over and teaches; the dark gap between teaches too, if it was one of a
    /// rhythm.
    void flash_begins(const Flash* before, const Flash& flash);

    /// The present flash has been on for `on_us` and has gone dark.
    CutShort verdict(TimeUs on_us, bool chattered) const;

    bool knows_gap() const { return !gaps_.empty(); }
    /// The longest of the last four gaps, and what the spread adds. Unit: us.
    TimeUs expected_gap_us() const;

private:
    void flash_taught(const Flash& flash);
    void learn(std::vector<TimeUs>& durations, TimeUs units);
    bool clearly_shorter(TimeUs on_us) const;
    TimeUs margin() const;
    TimeUs spread(const std::vector<TimeUs>& durations, TimeUs units) const;

    core::Settings settings_;
    std::vector<TimeUs> gaps_;     ///< all, in order. Unit: 64 us
    std::vector<TimeUs> on_times_; ///< all since the rhythm changed, in order. Unit: 64 us
    TimeUs largest_step_{0};       ///< from one duration to the next. Unit: 1/8192 of it
    TimeUs short_one_{0};          ///< the last flash's on time, if it was a short one; else 0. Unit: 64 us
    int chatter_flashes_left_{0};  ///< flashes until the line no longer counts as one that chatters
    int like_flashes_{0};          ///< since the false cut
    bool joined_midway_{false};    ///< the present flash may have begun before it was seen
    bool only_such_known_{false};  ///< the only on time known is that of such a flash
    bool quiet_{false};            ///< a cut was false: no verdict until two like flashes
};

} // namespace winkhold::reference
