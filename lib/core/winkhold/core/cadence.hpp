/// One line: where it is in the rhythm, and what each of its lights means there.
#pragma once

#include "winkhold/core/rhythm.hpp"

namespace winkhold {
namespace core {

/// What a line is doing. A light is a flash only once it has stood for a blink; until then it may be a stray
/// pulse.
enum class Phase : uint8_t {
    silent, ///< dark for longer than any gap, handed over, or never lit
    gap,    ///< dark since a flash
    glint,  ///< lit, so far for less than a blink
    dimmed, ///< that glint has gone; it may be back within a blink or so (contacts that bounce, chopped
            ///< light)
    lit,    ///< a flash
    stuck,  ///< lit for longer than any flash
};

/// What time alone has ended.
enum class Ended : uint8_t {
    nothing,
    blink, ///< for which a glint has stood
    glint, ///< which was no flash
    gap,   ///< which is longer than any
};

/// A glint where a flash is due counts from its rise: its side is shown. Any other glint counts once it has
/// stood for a blink. Which it is, Intent says. What a flash teaches is learned once it has stood for a
/// blink.
class Cadence {
public:
    // What is now.

    /// What the line is in the middle of, as far as lights count.
    constexpr Phase phase() const { return phase_; }
    /// The settled line is high.
    constexpr bool on() const { return phase_ >= Phase::lit || phase_ == Phase::glint; }
    /// Lit by a light that counts.
    constexpr bool burning() const { return phase_ >= Phase::lit || (phase_ == Phase::glint && counts_); }
    /// Burning, but no longer than a flash may: over 1 s it is none.
    WINKHOLD_OUTLINED constexpr bool flashing(const Context& c) const {
        if (phase_ == Phase::lit) return c.since_us(glint_) <= built_in::longest_gap_us;
        return phase_ == Phase::glint && counts_;
    }
    /// This side has flashed and has not been let go since; silence alone ends it.
    constexpr bool asked() const { return asked_; }
    /// Asked, and lit or within a gap.
    WINKHOLD_OUTLINED constexpr bool running() const { return asked_ && !out_of_silence(); }
    /// The next light that counts begins a request for this side.
    WINKHOLD_OUTLINED constexpr bool newcomer() const { return !asked_ || out_of_silence(); }
    /// Still flashes as the other side of a hazard has been dark for longer than any gap: they have not ended
    /// together.
    constexpr bool outlasts_silence(const Context& c) const {
        return on() || (phase_ == Phase::gap && static_cast<Span>(c.since_us(last_high_) + c.fall_window_us) <
                                                    built_in::longest_gap_us);
    }
    /// Its first light, so far for less than a blink, has gone.
    constexpr bool is_flick() const { return phase_ == Phase::dimmed && !in_gap_; }
    /// A light of this line, which may have gone again, began within `window_us`.
    WINKHOLD_OUTLINED constexpr bool rose_within(Span window_us, const Context& c) const {
        if (phase_ == Phase::silent || phase_ == Phase::stuck) return false;
        if (phase_ == Phase::dimmed && !counts_) return false;
        return elapsed_us(c.now, phase_ == Phase::gap || phase_ == Phase::lit ? rose_ : glint_) <= window_us;
    }
    /// A light that began now would be within the rhythm, or carry the flash on.
    WINKHOLD_OUTLINED constexpr bool due(const Rhythm& rhythm, const Context& c) const {
        if (phase_ != Phase::gap || !asked_) return false;
        return !rhythm.knows_gap() ||
               c.since_us(last_high_) <= static_cast<Span>(rhythm.expected_gap_us(c) + c.cut_margin_us);
    }
    /// The present or last flash began on a beat, and no dip of the supply has shortened it.
    WINKHOLD_OUTLINED constexpr bool on_beat() const {
        return whole_ && !excused_ && (in_gap_ || phase_ != Phase::dimmed);
    }
    /// The end of the last flash.
    constexpr Moment last_high() const { return last_high_; }
    /// From the rise of the last flash to that of the present glint, which came out of a gap.
    constexpr Span period_us() const { return elapsed_us(glint_, rose_); }
    /// Dark, and has been for three quarters of the last flash of `other` at least.
    constexpr bool dark_beside(const Cadence& other, const Context& c) const {
        const Span flash_us = c.since_us(other.rose_);
        return phase_ == Phase::silent ||
               (phase_ == Phase::gap && c.since_us(last_high_) >= flash_us - (flash_us >> 2));
    }
    /// The last flash was cut short, as far as one can know now.
    constexpr bool cut(const Context& c) const {
        return phase_ == Phase::gap && cut_ != Cut::no && reached(c.now, glint_);
    }

    // Rises.

    /// The light is back after less than a blink: it has never been away. True if that is so.
    WINKHOLD_OUTLINED constexpr bool resume(Rhythm& rhythm, const Context& c) {
        if (phase_ == Phase::dimmed && counts_) {
            prove(rhythm);
        } else if (phase_ == Phase::gap && asked_ && c.since_us(last_high_) < built_in::blink_us) {
            phase_ = Phase::lit;
            if (cut_ != Cut::no) glint_ = c.now;
            cut_ = Cut::no;
        } else {
            return false;
        }
        rhythm.doubt();
        return true;
    }
    /// A glint begins. True if it is the fourth within a blink or so of each other: no pulse, but a chopped
    /// light.
    WINKHOLD_OUTLINED constexpr bool glint(const Rhythm& rhythm, bool hazard, const Context& c) {
        if (phase_ != Phase::dimmed) {
            in_gap_ = phase_ == Phase::gap;
            again_ = 0;
        } else if (again_ != 3) {
            ++again_;
        }
        if (cut_is_next()) cut_ = Cut::no; // back before anybody was sure
        phase_ = Phase::glint;
        counts_ = false;
        glint_ = c.now;
        const uint16_t gap = Units::up(c.since_us(last_high_));
        soon_ = rhythm.too_soon(gap, c);
        skewed_ = hazard && !rhythm.too_soon(static_cast<uint16_t>(gap + Units::up(c.fall_window_us)), c);
        late_ = rhythm.too_late(gap, c);
        return again_ == 3;
    }
    /// The present glint counts.
    constexpr void count() { counts_ = asked_ = true; }
    /// The present glint is the first of a request, whatever came before.
    constexpr void begins_request() { in_gap_ = false; }

    /// The present glint is a flash, and tells what the gap before it was. True if it began on a beat.
    WINKHOLD_OUTLINED constexpr bool prove(Rhythm& rhythm) {
        phase_ = Phase::lit;
        const bool was_cut = cut_ != Cut::no;
        const bool excused = excused_;
        cut_ = Cut::no;
        excused_ = false;
        const Span gap_us = elapsed_us(glint_, last_high_);
        if (!in_gap_ || gap_us > built_in::longest_gap_us) {
            join();
            return false;
        }
        const uint16_t gap = Units::up(gap_us);
        if (gap_us < built_in::blink_us || soon_) {
            carry_on(gap, was_cut, excused, rhythm);
            return false;
        }
        if (!excused) {
            if (whole_) rhythm.learn_on(Units::down(elapsed_us(last_high_, rose_)));
            rhythm.learn_gap(gap, elapsed_us(glint_, rose_));
            if (was_cut || late_)
                rhythm.lose_trust();
            else
                rhythm.earn_trust();
        }
        whole_ = !late_ && !excused;
        odd_gap_ = 0;
        rose_ = glint_;
        return true;
    }

    // Falls.

    /// The line went off; it read high until `last_high`.
    constexpr void fall(Moment last_high, const Rhythm& rhythm, const Context& c) {
        if (phase_ == Phase::glint) {
            phase_ = Phase::dimmed;
            if (!in_gap_) last_high_ = last_high; // all the light there has been
            return;
        }
        const bool flash = phase_ == Phase::lit;
        phase_ = flash ? Phase::gap : Phase::silent;
        last_high_ = last_high;
        const bool short_one = rhythm.too_short(Units::down(elapsed_us(last_high, rose_)), c);
        if (short_one && flash && judges_cuts(rhythm, c)) {
            cut_ = Cut::short_flash;
            glint_ = rhythm.trusts_fully() ? last_high : after(last_high, built_in::blink_us);
        }
        if (!short_one) confirmed_ = true;
    }
    /// The supply dips: what it does to the flash or the gap teaches nothing, and is no cancel.
    constexpr void excuse() { excused_ = true; }

    /// Not asked for any more, until it flashes again.
    constexpr void let_go() { asked_ = false; }
    /// The other side has taken over: this one's rhythm has ended, too.
    constexpr void hand_over() {
        asked_ = false;
        in_gap_ = false;
        if (phase_ == Phase::gap) phase_ = Phase::silent;
    }

    // Time.

    /// Lets a deadline that `now` has reached take effect.
    constexpr Ended expire(const Rhythm& rhythm, const Context& c) {
        if (!core::due(timer(), c.now)) return Ended::nothing;
        switch (phase_) {
        case Phase::glint:
            return Ended::blink;
        case Phase::dimmed:
            end_glint(rhythm, c);
            return Ended::glint;
        case Phase::lit:
            phase_ = Phase::stuck;
            return Ended::nothing;
        default:
            if (cut_is_next()) {
                cut_ = Cut::known;
                return Ended::nothing;
            }
            phase_ = Phase::silent;
            return Ended::gap;
        }
    }
    /// When silence, or a light that stands, leads to something without any edge.
    WINKHOLD_OUTLINED constexpr Timer timer() const {
        switch (phase_) {
        case Phase::glint:
            return Timer{true, after(glint_, built_in::blink_us)};
        case Phase::dimmed:
            return Timer{true, after(glint_, 2 * built_in::blink_us)};
        case Phase::lit:
            return Timer{true, after(glint_, built_in::longest_on_us)};
        case Phase::gap:
            return Timer{true, cut_is_next() ? glint_ : after(last_high_, built_in::longest_gap_us)};
        default:
            return Timer{false, last_high_};
        }
    }

private:
    enum class Cut : uint8_t { no, short_flash, known };

    /// Silent, but for a glint that doesn't count yet.
    constexpr bool out_of_silence() const {
        return phase_ == Phase::silent ||
               ((phase_ == Phase::glint || phase_ == Phase::dimmed) && !in_gap_ && !counts_);
    }
    constexpr bool cut_is_next() const { return cut_ == Cut::short_flash; }

    /// Flashes that began on a beat are judged, once another of the same request has been no shorter than
    /// usual: a hazard may have a tempo of its own.
    constexpr bool judges_cuts(const Rhythm& rhythm, const Context& c) const {
        return c.cut_short && whole_ && confirmed_ && !excused_ && rhythm.trusts_cuts();
    }

    /// A glint was no flash. A first one is all there is of a request; one on its beat is the start of a
    /// flash cut short, which is known once the beat is over.
    constexpr void end_glint(const Rhythm& rhythm, const Context& c) {
        phase_ = Phase::gap;
        if (!in_gap_) {
            if (!counts_)
                phase_ = Phase::silent;
            else
                join();
            return;
        }
        if (c.since_us(last_high_) > built_in::longest_gap_us) {
            phase_ = Phase::silent;
        } else if (counts_ && judges_cuts(rhythm, c) && !soon_) {
            cut_ = Cut::short_flash;
            glint_ = after(last_high_, static_cast<Span>(rhythm.expected_gap_us(c) + c.cut_margin_us));
        }
    }

    /// The first flash of a request: it may have been joined midway, so it teaches nothing.
    constexpr void join() {
        whole_ = confirmed_ = false;
        cut_ = Cut::no;
        odd_gap_ = 0;
        rose_ = glint_;
    }

    /// After no gap of this rhythm: the flash goes on, its contact has been open. But two such gaps alike are
    /// a new rhythm (a lamp out doubles the rate).
    constexpr void carry_on(uint16_t gap, bool was_cut, bool excused, Rhythm& rhythm) {
        // no rise may become older than the clock can tell
        const bool is_endless = elapsed_us(glint_, rose_) > built_in::longest_on_us;
        if (is_endless) {
            rose_ = glint_;
            whole_ = false;
        }
        if (excused) {
            whole_ = false;
            return;
        }
        if (Units::to_us(gap) < built_in::blink_us) {
            if (was_cut) rhythm.lose_trust();
            return;
        }
        if (skewed_) { // a flash, whose other lamp has fallen late
            rhythm.doubt();
            rose_ = glint_;
            return;
        }
        rhythm.lose_trust();
        whole_ = false;
        const uint16_t before = odd_gap_;
        odd_gap_ = gap;
        const uint16_t apart = static_cast<uint16_t>(before > gap ? before - gap : gap - before);
        if (before == 0 || apart > gap >> 3) return;
        odd_gap_ = 0;
        rhythm.learn_gap(gap, 0);
        rhythm.begin_anew();
        rose_ = glint_;
    }

    Moment rose_{};       ///< the present or last flash began
    Moment last_high_{};  ///< and ended
    Moment glint_{};      ///< the last light began; in a gap: the flash cut short is let go
    uint16_t odd_gap_{0}; ///< the last gap, if it was too short; else 0
    Phase phase_{Phase::silent};
    Cut cut_{Cut::no};
    bool in_gap_{false};    ///< the glint came out of a gap, which goes on if it is none
    bool counts_{false};    ///< the glint is shown
    bool soon_{false};      ///< the glint came after a gap shorter than those known
    bool skewed_{false};    ///< but a hazard's lines may fall that late
    bool late_{false};      ///< or longer
    bool whole_{false};     ///< the flash began on a beat: it may be judged, and teaches
    bool confirmed_{false}; ///< this request has had a flash no shorter than usual
    bool excused_{false};   ///< the supply has dipped since the last flash began
    bool asked_{false};
    uint8_t again_{0}; ///< glints that came back
};

} // namespace core
} // namespace winkhold
