/// Second pass of the reference decoder: both lines, moment by moment -> the sides that are asked for.
#pragma once

#include "reference/line.hpp"
#include "reference/rhythm.hpp"

#include <array>
#include <optional>

namespace winkhold::reference {

using Side = std::size_t; ///< 0 left, 1 right

/// What the taps do at one moment.
struct Happening {
    std::array<bool, 2> rises{};
    std::array<bool, 2> falls{};
    TimeUs last_high_us{0}; ///< of those that fall
    bool supply_rises{false};
    bool supply_falls{false};
};

class Sides {
public:
    explicit Sides(const core::Settings& settings) : s_(settings), rhythm_(settings) {}

    void at(const Happening& what, TimeUs t_us);

    /// The moments after which something happens without the taps.
    std::array<TimeUs, 4> deadlines_us() const {
        return {lines_[0].deadline_us(), lines_[1].deadline_us(), alone_.value_or(never_us),
                power_gone_.value_or(never_us)};
    }
    bool asked(Side side) const { return lines_[side].asked; }
    bool burns(Side side) const { return lines_[side].burns() || (hazard_ && lines_[1 - side].burns()); }
    /// How long the silence of this side may last that begins now. Unit: us.
    TimeUs hold_us(Side side) const;

private:
    void supply(const Happening& what, TimeUs t_us);
    void fall(Side side, const Happening& what, TimeUs t_us);
    bool may_cut(const Line& line) const {
        return s_.cut_short && line.beat && line.usual && !line.excused && rhythm_.believes_cuts();
    }
    void rise(std::array<bool, 2> rises, TimeUs t_us);
    bool is_due(const Line& line, TimeUs t_us) const;
    bool resumes(Side side, TimeUs t_us);
    Glint glint(const Line& line, TimeUs t_us) const;
    void meet(Side side);
    void appear(Side side, bool takes_over, TimeUs t_us);
    void hand_over(Side side);
    void end_hazard_without(Side side) {
        hazard_ = false;
        hand_over(side);
    }
    void become_flash(Side side);
    static void goes_on(Line& line);
    void carry_on(Line& line, const Glint& glint, bool was_cut, bool excused);
    void join(Line& line, TimeUs from_us);
    void silence(TimeUs t_us);
    void deadline(Side side, bool hazard, TimeUs t_us);
    void glint_ends(Side side, TimeUs t_us);
    std::array<Side, 2> longer_gap_first() const {
        return lines_[1].last_high_us < lines_[0].last_high_us ? std::array<Side, 2>{1, 0}
                                                               : std::array<Side, 2>{0, 1};
    }

    core::Settings s_;
    Rhythm rhythm_;
    std::array<Line, 2> lines_;
    bool hazard_{false};
    /// The side that the other one may replace: lit when a newcomer began its first flash, or dark in a
    /// hazard whose light goes on.
    std::optional<Side> old_;
    std::optional<TimeUs> alone_;      ///< when it does, if `old_` is dark then
    std::optional<TimeUs> power_gone_; ///< when all is off
};

} // namespace winkhold::reference
