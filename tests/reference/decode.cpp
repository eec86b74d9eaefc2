#include "reference/decode.hpp"

#include "reference/rhythm.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace winkhold::reference {
namespace {

using Side = std::size_t; ///< 0 left, 1 right

/// A light that has not stood for a blink yet, or has gone before it had.
struct Glint {
    TimeUs from_us{0};
    bool on{true};
    bool shown{false};
    bool after_gap{false}; ///< of this line's rhythm
    bool soon{false};      ///< after a gap too short, or too long
    bool late{false};
    int came_back{0};
};

/// The last flash of a line.
struct Flash {
    TimeUs from_us{0};
    TimeUs to_us{0}; ///< last high
    bool on{false};
    bool beat{false};                    ///< began on a beat, and may be judged
    bool cut{false};                     ///< taken for one cut short
    std::optional<TimeUs> cut_from_us{}; ///< the moment from which that is so
};

struct Line {
    std::optional<Flash> flash{}; ///< none: silent
    std::optional<Glint> glint{};
    TimeUs last_high_us{-never_us};
    bool asked{false};
    bool usual{false}; ///< this request has had a flash no shorter than usual
    bool excused{false};
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
    bool flashing(TimeUs t_us) const {
        return (lit() && t_us - flash->from_us <= longest_gap_us) ||
               (!stuck && glint && glint->on && glint->shown);
    }
    bool rose_within(TimeUs window_us, TimeUs t_us) const {
        if (stuck || (!flash && !glint) || (glint && !glint->on && !glint->shown)) return false;
        return t_us - (glint ? glint->from_us : flash->from_us) <= window_us;
    }
};

class Walk {
public:
    Walk(const host::Trace& trace, const core::Settings& settings)
        : end_us_(trace.end_us), s_(settings), rhythm_(settings),
          supply_(stretches(trace, core::Lines::supply)) {
        for (const Side side : {0, 1})
            phases_[side] =
                settled(stretches(trace, side == 0 ? core::Lines::left : core::Lines::right), settings);
        answers_.emplace_back(trace.edges.front().t_us, core::Indication::off);
    }

    std::vector<Answer> answers() {
        for (TimeUs t_us = next_us(-1); t_us <= end_us_; t_us = next_us(t_us))
            at(t_us);
        return answers_;
    }

private:
    /// The next moment at which anything may happen.
    TimeUs next_us(TimeUs t_us) const {
        TimeUs next = never_us;
        const auto consider = [&](TimeUs when_us) {
            if (when_us > t_us) next = std::min(next, when_us);
        };
        for (const auto& phases : phases_)
            for (const OnPhase& phase : phases) {
                consider(phase.rise_us);
                consider(phase.fall_us);
            }
        for (const Stretch& up : supply_) {
            consider(up.from_us);
            consider(up.to_us);
        }
        for (const Side side : {0, 1}) {
            consider(deadline_us(side));
            if (hold_ends_[side]) consider(*hold_ends_[side]);
        }
        if (alone_) consider(*alone_);
        if (power_gone_) consider(*power_gone_);
        return next;
    }

    TimeUs deadline_us(Side side) const {
        const Line& line = lines_[side];
        if (line.stuck) return never_us;
        if (line.glint) return line.glint->from_us + (line.glint->on ? 1 : 2) * blink_us;
        if (!line.flash) return never_us;
        if (line.flash->on) return line.flash->from_us + longest_on_us;
        return line.flash->cut && !cut_known_[side] ? *line.flash->cut_from_us
                                                    : line.last_high_us + longest_gap_us;
    }

    void at(TimeUs t_us) {
        for (const Stretch& up : supply_)
            if (s_.supply_gone_us != 0) {
                if (up.from_us == t_us) power_gone_.reset();
                if (up.to_us == t_us) {
                    power_gone_ = t_us + s_.supply_gone_us;
                    lines_[0].excused = lines_[1].excused = true;
                }
            }
        std::array<bool, 2> rises{}, falls{};
        TimeUs last_high_us = t_us;
        for (const Side side : {0, 1})
            for (const OnPhase& phase : phases_[side]) {
                if (phase.fall_us == t_us) falls[side] = true, last_high_us = phase.last_high_us;
                if (phase.rise_us == t_us) rises[side] = true;
            }
        for (const Side side : {0, 1})
            if (falls[side]) fall(side, last_high_us, falls[0] && falls[1], t_us);
        rise(rises, t_us);
        do
            silence(t_us);
        while (std::min(deadline_us(0), deadline_us(1)) <=
               t_us); // a flash that went on may be overdue at once
        show(last_high_us, t_us);
    }

    void fall(Side side, TimeUs last_high_us, bool both, TimeUs t_us) {
        Line& line = lines_[side];
        Line& rival = lines_[1 - side];
        const bool burned = line.burns();
        if (line.glint) {
            line.glint->on = false;
            if (!line.glint->after_gap) line.last_high_us = last_high_us;
        } else if (line.stuck) {
            line.stuck = false;
            line.flash.reset();
            line.last_high_us = last_high_us;
        } else {
            Flash& flash = *line.flash;
            flash.on = false;
            flash.to_us = line.last_high_us = last_high_us;
            const bool too_short = rhythm_.too_short((last_high_us - flash.from_us) / 64);
            if (too_short && may_cut(line)) {
                flash.cut = true;
                cut_known_[side] = false;
                flash.cut_from_us = last_high_us + (rhythm_.believes_cuts_at_once() ? 0 : blink_us);
            }
            if (!too_short) line.usual = true;
        }
        if (!burned) return;
        if (rival.on()) {
            if (old_ != side || s_.fall_window_us == 0) return;
            TimeUs window_us = s_.fall_window_us;
            if (rival.rose_within(s_.handover_us, t_us))
                window_us = std::min<TimeUs>(window_us, s_.handover_us);
            alone_ = std::max(t_us, last_high_us + window_us);
            return;
        }
        old_.reset();
        alone_.reset();
        if (!hazard_ || both || !line.gap() || line.rose_within(s_.handover_us, t_us) || rival.glint) return;
        if (!rival.flash || rival.last_high_us < line.flash->from_us) {
            hazard_ = false;
            hand_over(1 - side);
        }
    }

    bool may_cut(const Line& line) const {
        return s_.cut_short && line.flash->beat && line.usual && !line.excused && rhythm_.believes_cuts();
    }

    void rise(std::array<bool, 2> rises, TimeUs t_us) {
        for (const Side side : longer_gap_first()) {
            if (!rises[side] || !resumes(side, t_us)) continue;
            rises[side] = false;
            Line& rival = lines_[1 - side];
            if (rival.glint && rival.glint->on && !rival.glint->shown) appear(1 - side, false, t_us);
        }
        std::array<bool, 2> expected{}, chopped{};
        for (const Side side : {0, 1}) {
            if (!rises[side]) continue;
            Line& line = lines_[side];
            const Line& rival = lines_[1 - side];
            expected[side] = is_due(line, t_us) ||
                             (!line.glint && line.silent() && (!rival.runs() || rival.flashing(t_us)));
            Glint glint{.from_us = t_us, .after_gap = line.gap()};
            if (line.glint) {
                glint.after_gap = line.glint->after_gap;
                glint.came_back = std::min(3, line.glint->came_back + 1);
            }
            const TimeUs gap = std::min<TimeUs>((t_us - line.last_high_us + 63) / 64, 65'000);
            glint.soon = rhythm_.too_soon(gap);
            glint.late = rhythm_.too_late(gap);
            line.glint = glint;
            if (line.flash && !cut_known_[side]) line.flash->cut = false; // back before anybody was sure
            chopped[side] = glint.came_back == 3;
        }
        for (const Side side : {0, 1}) {
            Line& line = lines_[side];
            Line& rival = lines_[1 - side];
            if (!rises[side] || line.burns()) continue;
            if (s_.handover_us == 0) {
                line.glint->shown = line.asked = true;
            } else if (rival.rose_within(s_.handover_us, t_us)) {
                hazard(side);
            } else if (expected[side] || chopped[side]) {
                appear(side, !chopped[side], t_us);
            }
        }
    }

    bool is_due(const Line& line, TimeUs t_us) const {
        if (!line.gap() || !line.asked) return false;
        return !rhythm_.known() || t_us - line.last_high_us <= rhythm_.expected_us() + s_.cut_margin_us;
    }

    bool resumes(Side side, TimeUs t_us) {
        Line& line = lines_[side];
        if (line.glint && line.glint->shown) {
            become_flash(side);
        } else if (line.gap() && line.asked && t_us - line.last_high_us < blink_us) {
            line.flash->on = true;
            line.flash->cut = false;
        } else {
            return false;
        }
        rhythm_.chatters();
        return true;
    }

    void hazard(Side side) {
        Line& line = lines_[side];
        Line& rival = lines_[1 - side];
        if (!hazard_ && (line.newcomer() || rival.newcomer()))
            for (Line* each : {&line, &rival})
                if (each->glint) each->glint->after_gap = false;
        for (Line* each : {&line, &rival}) {
            each->asked = true;
            if (each->glint) each->glint->shown = true;
        }
        hazard_ = true;
        old_.reset();
        alone_.reset();
    }

    void appear(Side side, bool takes_over, TimeUs t_us) {
        Line& line = lines_[side];
        const bool newcomer = line.newcomer();
        line.glint->shown = line.asked = true;
        if (!newcomer) return;
        hazard_ = false;
        alone_.reset();
        old_.reset();
        if (lines_[1 - side].flashing(t_us))
            old_ = 1 - side;
        else if (takes_over)
            hand_over(1 - side);
    }

    void hand_over(Side side) {
        Line& line = lines_[side];
        line.asked = false;
        if (line.glint) line.glint->after_gap = false;
        if (line.gap()) line.flash.reset();
    }

    /// The glint has stood for a blink.
    void become_flash(Side side) {
        Line& line = lines_[side];
        const Glint glint = *line.glint;
        line.glint.reset();
        const bool excused = std::exchange(line.excused, false);
        const TimeUs gap_us = glint.from_us - line.last_high_us;
        if (!line.flash || !glint.after_gap || gap_us > longest_gap_us) return join(side, glint.from_us);
        Flash& flash = *line.flash;
        const bool was_cut = std::exchange(flash.cut, false);
        const TimeUs gap = (gap_us + 63) / 64;
        flash.on = true;
        if (gap_us < blink_us || glint.soon) {
            if (excused) {
                flash.beat = false;
            } else if (gap * 64 < blink_us) {
                if (was_cut) rhythm_.irregular();
            } else {
                rhythm_.irregular();
                flash.beat = false;
                const TimeUs before = std::exchange(line.odd_gap, gap);
                if (before == 0 || std::abs(before - gap) > gap / 8) return;
                line.odd_gap = 0;
                rhythm_.gap(gap, 0);
                flash.from_us = glint.from_us;
            }
            return;
        }
        if (!excused) {
            if (flash.beat) rhythm_.on_time((line.last_high_us - flash.from_us) / 64);
            rhythm_.gap(gap, glint.from_us - flash.from_us);
            was_cut || glint.late ? rhythm_.irregular() : rhythm_.regular();
        }
        flash.beat = !glint.late && !excused;
        flash.from_us = glint.from_us;
        line.odd_gap = 0;
    }

    void join(Side side, TimeUs from_us) {
        Line& line = lines_[side];
        line.flash = Flash{.from_us = from_us, .on = true};
        line.usual = false;
        line.odd_gap = 0;
    }

    void silence(TimeUs t_us) {
        if (alone_ && *alone_ <= t_us) {
            alone_.reset();
            if (old_ && !lines_[*old_].on() && lines_[1 - *old_].flashing(t_us)) hand_over(*old_);
        }
        const bool off = power_gone_ && *power_gone_ <= t_us;
        if (off) power_gone_.reset();
        for (const Side side : longer_gap_first())
            if (deadline_us(side) <= t_us) deadline(side, t_us);
        for (const Side side : {0, 1}) {
            const bool rival_allows = hazard_ ? is_cut(1 - side, t_us) : !lines_[1 - side].burns();
            if (off || (is_cut(side, t_us) && rival_allows)) lines_[side].asked = false;
        }
    }

    bool is_cut(Side side, TimeUs t_us) const {
        const Line& line = lines_[side];
        return line.gap() && line.flash->cut && *line.flash->cut_from_us <= t_us;
    }

    void deadline(Side side, TimeUs t_us) {
        Line& line = lines_[side];
        if (line.glint && line.glint->on) {
            if (!line.glint->shown) {
                hazard_ = false;
                appear(side, true, t_us);
            }
            become_flash(side);
        } else if (line.glint) {
            const Glint glint = *line.glint;
            line.glint.reset();
            if (!glint.after_gap || !line.flash) {
                line.flash.reset();
                if (!glint.shown) return;
                join(side, glint.from_us);
                line.flash->on = false;
            } else if (t_us - line.last_high_us > longest_gap_us) {
                line.flash.reset();
            } else if (glint.shown && may_cut(line) && !glint.soon) {
                line.flash->cut = true;
                cut_known_[side] = false;
                line.flash->cut_from_us = line.last_high_us + rhythm_.expected_us() + s_.cut_margin_us;
            }
        } else if (line.flash->on) {
            line.stuck = true;
        } else if (line.flash->cut && !cut_known_[side]) {
            cut_known_[side] = true;
        } else {
            line.flash.reset();
        }
    }

    std::array<Side, 2> longer_gap_first() const {
        return lines_[1].last_high_us < lines_[0].last_high_us ? std::array<Side, 2>{1, 0}
                                                               : std::array<Side, 2>{0, 1};
    }

    void show(TimeUs last_high_us, TimeUs t_us) {
        unsigned shown = 0;
        for (const Side side : {0, 1}) {
            const bool burns = lines_[side].burns() || (hazard_ && lines_[1 - side].burns());
            if (!lines_[side].asked) {
                held_[side] = false;
            } else if (burns) {
                held_[side] = true;
                hold_ends_[side].reset();
            } else if (held_[side] && !hold_ends_[side]) {
                hold_ends_[side] = last_high_us + hold_us();
            }
            if (hold_ends_[side] && *hold_ends_[side] <= t_us) held_[side] = false;
            if (!held_[side]) hold_ends_[side].reset();
            if (held_[side]) shown |= 1u << side;
        }
        const auto now = static_cast<core::Indication>(shown);
        if (answers_.back().first == t_us) answers_.back().second = now;
        if (answers_.back().second != now) answers_.emplace_back(t_us, now);
    }

    TimeUs hold_us() const {
        if (s_.rule == core::HoldRule::fixed) return s_.hold_us;
        const TimeUs prior_us = TimeUs{s_.gap_prior_us} + (s_.spread ? s_.gap_prior_us / 4 : 0);
        const TimeUs gap_us = rhythm_.known() ? rhythm_.expected_us() : prior_us;
        return gap_us == 0 ? TimeUs{s_.hold_us} : std::min<TimeUs>(gap_us + s_.guard_us, s_.hold_us);
    }

    TimeUs end_us_;
    core::Settings s_;
    Rhythm rhythm_;
    std::vector<Stretch> supply_;
    std::array<std::vector<OnPhase>, 2> phases_;
    std::array<Line, 2> lines_;
    std::array<bool, 2> cut_known_{};
    bool hazard_{false};
    std::optional<Side> old_;          ///< beside whose light a newcomer began its first flash
    std::optional<TimeUs> alone_;      ///< when the newcomer goes on alone
    std::optional<TimeUs> power_gone_; ///< when all is off
    std::array<bool, 2> held_{};
    std::array<std::optional<TimeUs>, 2> hold_ends_;
    std::vector<Answer> answers_;
};

} // namespace

std::vector<Answer> decode(const host::Trace& trace, const core::Settings& settings) {
    if (trace.edges.empty()) return {};
    return Walk(trace, settings).answers();
}

} // namespace winkhold::reference
