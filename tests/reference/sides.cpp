#include "reference/sides.hpp"

#include <algorithm>
#include <cstdlib>
#include <utility>

namespace winkhold::reference {

void Sides::at(const Happening& what, TimeUs t_us) {
    supply(what, t_us);
    for (const Side side : {0, 1})
        if (what.falls[side]) fall(side, what, t_us);
    rise(what.rises, t_us);
    do
        silence(t_us);
    while (std::min(lines_[0].deadline_us(), lines_[1].deadline_us()) <= t_us); // one may lead to the next
}

TimeUs Sides::hold_us(Side side) const {
    if (s_.rule == core::HoldRule::fixed) return s_.hold_us;
    const TimeUs prior_us = TimeUs{s_.gap_prior_us} + (s_.spread ? s_.gap_prior_us / 4 : 0);
    const bool tells = lines_[side].on_beat() && rhythm_.known();
    const TimeUs gap_us = tells ? rhythm_.expected_us() : rhythm_.is_irregular() ? 0 : prior_us;
    return gap_us == 0 ? TimeUs{s_.hold_us} : std::min<TimeUs>(gap_us + s_.guard_us, s_.hold_us);
}

void Sides::supply(const Happening& what, TimeUs t_us) {
    if (s_.supply_gone_us == 0) return;
    if (what.supply_rises) power_gone_.reset();
    if (!what.supply_falls) return;
    power_gone_ = t_us + s_.supply_gone_us;
    lines_[0].excused = lines_[1].excused = true;
}

void Sides::fall(Side side, const Happening& what, TimeUs t_us) {
    Line& line = lines_[side];
    const Line& rival = lines_[1 - side];
    const bool burned = line.burns();
    if (line.glint) {
        line.glint->on = false;
        if (!line.glint->after_gap) line.last_high_us = what.last_high_us;
    } else if (line.stuck) {
        line.stuck = false;
        line.flash.reset();
        line.last_high_us = what.last_high_us;
    } else {
        Flash& flash = *line.flash;
        flash.on = false;
        line.last_high_us = what.last_high_us;
        const bool too_short = rhythm_.too_short((what.last_high_us - flash.from_us) / 64);
        if (too_short && may_cut(line)) {
            flash.cut = true;
            line.cut_known = false;
            flash.cut_from_us = what.last_high_us + (rhythm_.believes_cuts_at_once() ? 0 : blink_us);
        }
        if (!too_short) line.usual = true;
    }
    if (!burned) return;
    if (rival.on()) {
        if (old_ != side || s_.fall_window_us == 0) return;
        TimeUs window_us = s_.fall_window_us;
        if (rival.rose_within(s_.handover_us, t_us)) window_us = std::min<TimeUs>(window_us, s_.handover_us);
        alone_ = std::max(t_us, what.last_high_us + window_us);
        return;
    }
    if (hazard_ && line.glint) return;
    old_.reset();
    alone_.reset();
    const bool both = what.falls[0] && what.falls[1];
    if (!hazard_ || both || !line.gap() || line.rose_within(s_.handover_us, t_us) || rival.glint) return;
    const TimeUs flash_us = t_us - line.flash->from_us;
    if (!rival.flash || t_us - rival.last_high_us >= flash_us - flash_us / 4) end_hazard_without(1 - side);
}

void Sides::rise(std::array<bool, 2> rises, TimeUs t_us) {
    for (const Side side : longer_gap_first()) {
        if (!rises[side] || !resumes(side, t_us)) continue;
        rises[side] = false;
        if (hazard_ && old_ == side) old_.reset();
        const Line& rival = lines_[1 - side];
        if (rival.glint && rival.glint->on && !rival.glint->shown) appear(1 - side, false, t_us);
    }
    std::array<bool, 2> expected{}, chopped{};
    for (const Side side : {0, 1}) {
        if (!rises[side]) continue;
        Line& line = lines_[side];
        const Line& rival = lines_[1 - side];
        expected[side] =
            is_due(line, t_us) || (!line.glint && line.silent() && (!rival.runs() || rival.flashing(t_us)));
        line.glint = glint(line, t_us);
        if (line.flash && !line.cut_known) line.flash->cut = false; // back before anybody was sure
        chopped[side] = line.glint->came_back == 3;
    }
    for (const Side side : {0, 1}) {
        Line& line = lines_[side];
        if (!rises[side] || line.burns()) continue;
        if (s_.handover_us == 0) {
            line.glint->shown = line.asked = true;
        } else if (lines_[1 - side].rose_within(s_.handover_us, t_us)) {
            meet(side);
        } else if (expected[side] || chopped[side]) {
            appear(side, !chopped[side], t_us);
        }
    }
}

bool Sides::is_due(const Line& line, TimeUs t_us) const {
    if (!line.gap() || !line.asked) return false;
    return !rhythm_.known() || t_us - line.last_high_us <= rhythm_.expected_us() + s_.cut_margin_us;
}

bool Sides::resumes(Side side, TimeUs t_us) {
    Line& line = lines_[side];
    if (line.glint && line.glint->shown) {
        become_flash(side);
    } else if (line.gap() && line.asked && t_us - line.last_high_us < blink_us) {
        line.flash->on = true;
        if (std::exchange(line.flash->cut, false)) line.lit_from_us = t_us;
    } else {
        return false;
    }
    rhythm_.chatters();
    return true;
}

/// The light that begins now on `line`.
Glint Sides::glint(const Line& line, TimeUs t_us) const {
    Glint glint{.from_us = t_us, .after_gap = line.gap()};
    if (line.glint) {
        glint.after_gap = line.glint->after_gap;
        glint.came_back = std::min(3, line.glint->came_back + 1);
    }
    const TimeUs gap = std::min<TimeUs>((t_us - line.last_high_us + 63) / 64, 65'000);
    glint.soon = rhythm_.too_soon(gap);
    glint.skewed = hazard_ && glint.soon && !rhythm_.too_soon(gap + (TimeUs{s_.fall_window_us} + 63) / 64);
    glint.late = rhythm_.too_late(gap);
    return glint;
}

/// Both have risen within the window: a hazard. But the other's light may turn out to be no flash.
void Sides::meet(Side side) {
    Line& line = lines_[side];
    Line& rival = lines_[1 - side];
    const bool flicked = rival.flicked();
    if (!hazard_ && (line.newcomer() || rival.newcomer()))
        for (Line* each : {&line, &rival})
            if (each->glint) each->glint->after_gap = false;
    for (Line* each : {&line, &rival}) {
        each->asked = true;
        if (each->glint) each->glint->shown = true;
    }
    hazard_ = true;
    alone_.reset();
    old_.reset();
    if (flicked) old_ = 1 - side;
}

void Sides::appear(Side side, bool takes_over, TimeUs t_us) {
    Line& line = lines_[side];
    const Line& rival = lines_[1 - side];
    const bool newcomer = line.newcomer();
    line.glint->shown = line.asked = true;
    alone_.reset();
    old_.reset();
    if (newcomer) {
        hazard_ = false;
        if (rival.flashing(t_us))
            old_ = 1 - side;
        else if (takes_over)
            hand_over(1 - side);
    } else if (hazard_ && !rival.on()) {
        old_ = 1 - side;
        alone_ = t_us + lone_flash_us;
    }
}

void Sides::hand_over(Side side) {
    Line& line = lines_[side];
    line.asked = false;
    if (line.glint) line.glint->after_gap = false;
    if (line.gap()) line.flash.reset();
}

/// The glint has stood for a blink.
void Sides::become_flash(Side side) {
    Line& line = lines_[side];
    const Glint glint = *line.glint;
    line.glint.reset();
    line.lit_from_us = glint.from_us;
    const bool excused = std::exchange(line.excused, false);
    const TimeUs gap_us = glint.from_us - line.last_high_us;
    if (!line.flash || !glint.after_gap || gap_us > longest_gap_us) return join(line, glint.from_us);
    Flash& flash = *line.flash;
    const bool was_cut = std::exchange(flash.cut, false);
    flash.on = true;
    if (gap_us < blink_us || glint.soon) return carry_on(line, glint, was_cut, excused);
    if (!excused) {
        if (line.beat) rhythm_.on_time((line.last_high_us - flash.from_us) / 64);
        rhythm_.gap((gap_us + 63) / 64, glint.from_us - flash.from_us);
        was_cut || glint.late ? rhythm_.irregular() : rhythm_.regular();
    }
    line.beat = !glint.late && !excused;
    flash.from_us = glint.from_us;
    line.odd_gap = 0;
}

/// No flash is longer than a line can be lit before it is stuck: another begins, of which nothing is known.
void Sides::goes_on(Line& line) {
    if (line.lit_from_us - line.flash->from_us <= longest_on_us) return;
    line.flash->from_us = line.lit_from_us;
    line.beat = false;
}

/// After a gap that was none of the rhythm: its contact has been open.
void Sides::carry_on(Line& line, const Glint& glint, bool was_cut, bool excused) {
    const TimeUs gap = (glint.from_us - line.last_high_us + 63) / 64;
    goes_on(line);
    if (excused) {
        line.beat = false;
    } else if (gap * 64 < blink_us) {
        if (was_cut) rhythm_.irregular();
    } else if (glint.skewed) {
        rhythm_.chatters();
        line.flash->from_us = glint.from_us;
    } else {
        rhythm_.irregular();
        line.beat = false;
        const TimeUs before = std::exchange(line.odd_gap, gap);
        if (before == 0 || std::abs(before - gap) > gap / 8) return;
        line.odd_gap = 0;
        rhythm_.gap(gap, 0);
        rhythm_.begins_anew();
        line.flash->from_us = glint.from_us;
    }
}

void Sides::join(Line& line, TimeUs from_us) {
    line.flash = Flash{.from_us = from_us, .on = true};
    line.beat = line.usual = false;
    line.odd_gap = 0;
}

void Sides::silence(TimeUs t_us) {
    if (alone_ && *alone_ <= t_us) {
        alone_.reset();
        if (old_ && !lines_[*old_].on() && lines_[1 - *old_].flashing(t_us)) end_hazard_without(*old_);
    }
    const bool off = power_gone_ && *power_gone_ <= t_us;
    if (off) power_gone_.reset();
    const bool hazard = hazard_; // of two that end at one moment each ends as if it came first
    for (const Side side : longer_gap_first())
        if (lines_[side].deadline_us() <= t_us) deadline(side, hazard, t_us);
    for (const Side side : {0, 1}) {
        const Line& rival = lines_[1 - side];
        const bool rival_allows =
            hazard_ ? rival.is_cut(t_us) && rhythm_.believes_cuts_at_once() : !rival.burns();
        if (off || (lines_[side].is_cut(t_us) && rival_allows)) lines_[side].asked = false;
    }
}

void Sides::deadline(Side side, bool hazard, TimeUs t_us) {
    Line& line = lines_[side];
    if (line.glint && line.glint->on) {
        if (!line.glint->shown) {
            hazard_ = false;
            appear(side, true, t_us);
        }
        become_flash(side);
    } else if (line.glint) {
        glint_ends(side, t_us);
        const bool replaced = old_ == side && !alone_ && lines_[1 - side].flashing(t_us);
        if (hazard && replaced) end_hazard_without(side);
    } else if (line.flash->on) {
        line.stuck = true;
    } else if (line.flash->cut && !line.cut_known) {
        line.cut_known = true;
    } else {
        line.flash.reset();
        const Line& rival = lines_[1 - side];
        const bool goes_on =
            rival.on() || (rival.gap() && t_us - rival.last_high_us + s_.fall_window_us < longest_gap_us);
        if (hazard && goes_on) end_hazard_without(side);
    }
}

/// It has gone, and has not come back: no flash.
void Sides::glint_ends(Side side, TimeUs t_us) {
    Line& line = lines_[side];
    const Glint glint = *line.glint;
    line.glint.reset();
    if (!glint.after_gap || !line.flash) {
        line.flash.reset();
        if (!glint.shown) return;
        join(line, glint.from_us);
        line.flash->on = false;
    } else if (t_us - line.last_high_us > longest_gap_us) {
        line.flash.reset();
    } else if (glint.shown && may_cut(line) && !glint.soon) {
        line.flash->cut = true;
        line.cut_known = false;
        line.flash->cut_from_us = line.last_high_us + rhythm_.expected_us() + s_.cut_margin_us;
    }
}

} // namespace winkhold::reference
