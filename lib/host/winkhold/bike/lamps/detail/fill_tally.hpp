/// What the flashes of each group came to, and how long the stop lamps took.
#pragma once

#include "winkhold/bike/lamps/lamp_frames.hpp"

#include <algorithm>

namespace winkhold::bike {

/// A flash, by its number among its group's.
struct FlashMark {
    std::int64_t number{0}; ///< counted from 1; 0: none
    TimeUs start_us{0};
};

struct GroupTally {
    std::int64_t flashes{0};
    std::int64_t cut{0};       ///< of these: ended, or perhaps ended, by a cancel before they were full
    std::int64_t short_of{0};  ///< of these: nobody cancelled, and yet it was never full
    std::int64_t hurried{0};   ///< of these: filled faster than the pattern asks
    LampFill shortest{};       ///< of those short of full: the one that reached least, the first of such
    TimeUs longest_full_us{0}; ///< from the start until it was full
    FlashMark first_short;     ///< of `short_of`
    FlashMark first_hurried;   ///< of `hurried`
    bool was_full{false};      ///< every lamp has been at full brightness
};

class FillTally {
public:
    explicit FillTally(const LampPlan& plan) : plan_(plan), groups_(plan.lamps.size()) {}

    /// Before it is played.
    void edge(const Edge& edge) {
        const bool brake = edge.lines.has(core::Lines::brake);
        if (brake == brake_) return;
        brake_ = brake;
        // within a bounce the press began earlier
        if (brake && !stop_lit_ && (pressed_us_ < 0 || edge.t_us - left_us_ >= core::built_in::blink_us))
            pressed_us_ = edge.t_us;
        left_us_ = edge.t_us;
    }

    void frame(const LampFrame& frame) {
        const bool one_side = frame.shown == core::Indication::left || frame.shown == core::Indication::right;
        if (shown_ == core::Indication::hazard && one_side && collapses_++ == 0)
            first_collapse_us_ = frame.t_us;
        shown_ = frame.shown;
        bool stop_lit = false;
        for (std::size_t i = 0; i < groups_.size(); ++i) {
            const core::LampGroup& plays = plan_.lamps[i].plays;
            const core::GroupFrame& now = frame.groups[i];
            const bool full = now.lit == plays.count && now.level == plays.full;
            if (full) groups_[i].was_full = true;
            if (full && plays.job == core::Job::stop) stop_lit = true;
        }
        if (stop_lit && pressed_us_ >= 0) {
            longest_stop_us_ = std::max(longest_stop_us_, frame.t_us - pressed_us_);
            pressed_us_ = -1;
        }
        stop_lit_ = stop_lit;
    }

    void fill(const LampFill& fill) {
        GroupTally& tally = groups_[fill.group];
        const core::LampGroup& plays = plan_.lamps[fill.group].plays;
        ++tally.flashes;
        if (!fill.full()) {
            if (fill.may_be_cut) {
                ++tally.cut;
                return;
            }
            if (tally.short_of == 0) tally.first_short = {tally.flashes, fill.start_us};
            if (tally.short_of++ == 0 || fill.reached < tally.shortest.reached) tally.shortest = fill;
            return;
        }
        const TimeUs full_us = fill.full_us - fill.start_us;
        tally.longest_full_us = std::max(tally.longest_full_us, full_us);
        if (full_us >= static_cast<TimeUs>(plays.pattern.step_us) * (plays.blocks() - 1)) return;
        if (tally.hurried++ == 0) tally.first_hurried = {tally.flashes, fill.start_us};
    }

    const std::vector<GroupTally>& groups() const { return groups_; }
    /// From the brake tap's first high to the stop lamps; below 0: they never lit.
    TimeUs longest_stop_us() const { return longest_stop_us_; }
    /// So often a hazard became one side without a pause, and when first.
    std::int64_t collapses() const { return collapses_; }
    TimeUs first_collapse_us() const { return first_collapse_us_; }
    std::int64_t short_of() const {
        std::int64_t all = 0;
        for (const GroupTally& group : groups_)
            all += group.short_of;
        return all;
    }

private:
    const LampPlan& plan_;
    std::vector<GroupTally> groups_;
    TimeUs pressed_us_{-1}; ///< brake, not yet shown
    TimeUs left_us_{0};     ///< the brake tap's last change
    TimeUs longest_stop_us_{-1};
    bool brake_{false};
    bool stop_lit_{false};
    core::Indication shown_{core::Indication::off};
    std::int64_t collapses_{0};
    TimeUs first_collapse_us_{0};
};

} // namespace winkhold::bike
