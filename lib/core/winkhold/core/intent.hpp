/// Both lines -> the sides that are asked for, however long the silence.
#pragma once

#include "winkhold/core/cadence.hpp"
#include "winkhold/core/lines.hpp"
#include "winkhold/core/watch.hpp"

namespace winkhold {
namespace core {

/// What has settled at one moment.
struct Happening {
    Sides rose;
    Sides fell;
    Moment last_high{};       ///< of the sides that fell: the last moment their lines read high
    bool supply_moved{false}; ///< the supply tap changed
    bool supply_up{false};    ///< to this
};

/// Judges both lines. It never looks at holds, so its verdicts are the same for every hold time.
///
/// A light counts at once where it is expected: a flash that is due, the first one when nothing else runs, or
/// one together with the other side's. Any other one is shown once it has stood for a blink. A newcomer that
/// then stands alone takes over from the other side; nothing else but silence, a flash cut short and the
/// supply ends a side.
class Intent {
public:
    /// All that happens at one moment, in this order: the supply, falls, rises, and what time alone ends.
    WINKHOLD_RARE constexpr void judge(const Happening& what, const Context& c) {
        if (what.supply_moved) supply(what.supply_up, c);
        for (const Side side : both_sides)
            if (what.fell.has(side)) fall(side, what, c);
        if (what.rose.any()) rises(what.rose, c);
        expire(c);
    }

    /// Has flashed, and has not been let go since.
    constexpr bool asked(Side side) const { return at(side).asked(); }
    /// Lit by a light that counts. A hazard's light counts for both sides.
    constexpr bool burning(Side side) const {
        return at(side).burning() || (hazard_ && at(other(side)).burning());
    }
    /// The last flash of this side began on a beat: it was not the first of its request.
    constexpr bool on_beat(Side side) const { return at(side).on_beat(); }
    /// What both lines have taught so far.
    constexpr const Rhythm& rhythm() const { return rhythm_; }
    /// Mask of Fault.
    constexpr uint8_t notices(Side side) const {
        return static_cast<uint8_t>(pair_.notices(side) | (at(side).phase() == Phase::stuck ? stuck_on : 0));
    }

    /// Adds every moment at which time alone ends or starts something.
    constexpr void wait(Soonest& soonest) const {
        soonest.add(alone_);
        soonest.add(supply_gone_);
        soonest.add(lines_[0].timer());
        soonest.add(lines_[1].timer());
    }

private:
    WINKHOLD_OUTLINED constexpr void rises(Sides rose, const Context& c) {
        // a light that is back within a blink has been there all along, so a glint beside it may count
        const bool swap = right_first(c);
        for (const Side each : both_sides) {
            const Side side = swap ? other(each) : each;
            if (!rose.has(side) || !at(side).resume(rhythm_, c)) continue;
            rose.remove(side);
            const Cadence& rival = at(other(side));
            if (hazard_) old_.remove(side);
            if (rival.phase() == Phase::glint && !rival.burning()) appear(other(side), false, c);
        }
        Sides expected;
        Sides chopped;
        for (const Side side : both_sides) {
            if (!rose.has(side)) continue;
            if (is_expected(side, c)) expected.add(side);
            if (at(side).glint(rhythm_, hazard_, c)) chopped.add(side);
        }
        for (const Side side : both_sides) {
            if (!rose.has(side) || at(side).burning()) continue;
            if (c.handover_us == 0)
                at(side).count();
            else if (at(other(side)).rose_within(c.handover_us, c))
                begin_hazard(side, c);
            else if (expected.has(side) || chopped.has(side))
                appear(side, !chopped.has(side), c);
        }
    }

    /// A light of this side would be due, or the first one with nothing to wait for; beside a side that is
    /// lit nothing is lost by showing both.
    constexpr bool is_expected(Side side, const Context& c) const {
        const Cadence& line = at(side);
        const Cadence& rival = at(other(side));
        return line.due(rhythm_, c) ||
               (line.phase() == Phase::silent && (!rival.running() || rival.flashing(c)));
    }

    /// Of two lights that are judged at one moment the one after the longer gap comes first, whichever tap it
    /// is.
    constexpr bool right_first(const Context& c) const {
        return c.since_us(lines_[1].last_high()) > c.since_us(lines_[0].last_high());
    }

    /// Both sides have risen within the window; but if the other one has gone again, it may have been a
    /// flick.
    constexpr void begin_hazard(Side side, const Context& c) {
        Cadence& line = at(side);
        Cadence& rival = at(other(side));
        old_ = rival.is_flick() ? Sides(other(side)) : Sides();
        if (!hazard_ && (line.newcomer() || rival.newcomer())) {
            line.begins_request();
            rival.begins_request();
        }
        line.count();
        rival.count();
        pair_.together(rival.rose_within(PairWatch::at_once_us, c));
        hazard_ = true;
        alone_.armed = false;
    }

    /// The other side takes over, or a hazard goes on as a turn.
    WINKHOLD_OUTLINED constexpr void go_on_without(Side side) {
        hazard_ = false;
        at(side).hand_over();
    }

    /// The present glint of `side` is shown from now on.
    constexpr void appear(Side side, bool takes_over, const Context& c) {
        Cadence& line = at(side);
        Cadence& rival = at(other(side));
        const bool newcomer = line.newcomer();
        line.count();
        pair_.alone(newcomer && rival.running(), hazard_);
        alone_.armed = false;
        old_ = Sides();
        if (!newcomer) {
            if (hazard_ && !rival.on()) {
                old_.add(other(side));
                alone_ = Timer{true, after(c.now, built_in::lone_flash_us)};
            }
            return;
        }
        hazard_ = false;
        if (rival.flashing(c))
            old_.add(other(side));
        else if (takes_over)
            rival.hand_over();
    }

    WINKHOLD_OUTLINED constexpr void fall(Side side, const Happening& what, const Context& c) {
        Cadence& line = at(side);
        Cadence& rival = at(other(side));
        const bool burned = line.burning();
        line.fall(what.last_high, rhythm_, c);
        if (!burned) return;
        if (rival.on()) {
            if (!old_.has(side) || c.fall_window_us == 0) return;
            const bool fresh = rival.rose_within(c.handover_us, c);
            alone_ = Timer{true, after(what.last_high,
                                       fresh ? least_us(c.handover_us, c.fall_window_us) : c.fall_window_us)};
            return;
        }
        if (hazard_ && line.phase() == Phase::dimmed) return; // it may go on, and still be alone
        old_ = Sides();
        alone_.armed = false;
        if (hazard_ && what.fell != Sides::both() && line.phase() == Phase::gap &&
            !line.rose_within(c.handover_us, c) && rival.dark_beside(line, c))
            go_on_without(other(side));
    }

    /// Taps start low, so the first time the supply goes up: one that never does is not connected.
    WINKHOLD_RARE constexpr void supply(bool up, const Context& c) {
        if (c.supply_gone_us == 0) return;
        supply_gone_ = Timer{!up, after(c.now, c.supply_gone_us)};
        if (up) return;
        lines_[0].excuse();
        lines_[1].excuse();
    }

    constexpr void expire(const Context& c) {
        const bool alone = core::due(alone_, c.now);
        if (alone) alone_.armed = false;
        const bool key_off = core::due(supply_gone_, c.now);
        if (key_off) supply_gone_.armed = false;
        for (const Side side : both_sides) {
            const bool replaced = alone && old_.has(side) && !at(side).on();
            if (replaced && at(other(side)).flashing(c)) go_on_without(side);
        }
        const bool swap = right_first(c);
        const bool hazard = hazard_;
        for (const Side each : both_sides)
            expire(swap ? other(each) : each, hazard, c);
        for (const Side side : both_sides) {
            const Cadence& rival = at(other(side));
            const bool cancelled =
                at(side).cut(c) && (hazard_ ? rival.cut(c) && rhythm_.trusts_fully() : !rival.burning());
            if (key_off || cancelled) at(side).let_go();
        }
    }

    WINKHOLD_OUTLINED constexpr void expire(Side side, bool hazard, const Context& c) {
        Cadence& line = at(side);
        const Ended ended = line.expire(rhythm_, c);
        if (ended != Ended::blink) {
            const Cadence& rival = at(other(side));
            const bool flick = ended == Ended::glint && old_.has(side) && !alone_.armed && rival.flashing(c);
            if (hazard && (flick || (ended == Ended::gap && rival.outlasts_silence(c)))) go_on_without(side);
            return;
        }
        if (!line.burning()) { // where none was due: no hazard runs any more
            hazard_ = false;
            appear(side, true, c);
        }
        const Span period_us = line.period_us();
        if (line.prove(rhythm_)) pair_.tempo(side, period_us);
    }

    WINKHOLD_OUTLINED constexpr Cadence& at(Side side) { return lines_[static_cast<uint8_t>(side)]; }
    WINKHOLD_OUTLINED constexpr const Cadence& at(Side side) const {
        return lines_[static_cast<uint8_t>(side)];
    }

    Timer supply_gone_;
    Timer alone_;        ///< the old side has been dark beside the newcomer for long enough
    bool hazard_{false}; ///< both sides have risen as one, and none has been let go since
    Sides old_;          ///< the side that goes when alone_ is due, or once it proves to be a flick
    PairWatch pair_;
    Rhythm rhythm_;
    Cadence lines_[2];
};

} // namespace core
} // namespace winkhold
