/// One side: the lit and dark phases that its lamps play in.
#pragma once

#include "winkhold/core/rhythm.hpp"

namespace winkhold {
namespace core {

/// Where the flashes come from.
enum class FlashSource : uint8_t {
    following, ///< the line's own: a flash is lit while its side is shown and its line is on
    own_rate,  ///< made here from the moment a side is shown; a side that joins starts both anew, in phase
};

/// How the lamps' flashes are timed.
struct SequenceSettings {
    FlashSource source{FlashSource::following};
    /// Own rate: how long a flash is lit, and how long dark. Both 0: as the slowest turn group needs, with
    /// the longest blank. Range: [0, 5 s].
    Span on_us{0};
    Span dark_us{0};
    /// Following: the line's on time, if somebody has measured it; used until a flash has been seen. 0: not
    /// known. Range: [0, 3 s]. Gains: the first flash after power-up is swept in time, too.
    Span on_prior_us{0};
};

/// The flashes of one side. Nothing here waits: a side no longer shown, or a line that falls, is dark at
/// once.
class Flash {
public:
    constexpr Flash() : recent_(), state_(State::hidden), first_(true), unsure_(false) {}

    /// The side is `shown` and its settled line `on` from `now` on. Call it when either changes, and when
    /// timer() is due.
    constexpr void follow(bool shown, bool on, Moment now, const SequenceSettings& s) {
        if (!shown) return hide();
        if (state_ == State::hidden) state_ = State::dark;
        if (due(timer(s), now)) state_ = state_ == State::lit ? State::steady : State::dark;
        if (on && !lit()) rise(now, s);
        if (!on && lit()) fall(now);
    }

    /// As follow(), at the own rate. `starts`: a side joins, begin anew.
    constexpr void beat(bool shown, bool starts, Moment now, const SequenceSettings& s) {
        if (!shown) return hide();
        if (starts) {
            since_ = now;
            state_ = State::lit;
            fits_us_ = s.on_us;
        } else if (due(timer(s), now)) {
            since_ = now;
            state_ = lit() ? State::dark : State::lit;
        }
    }

    /// When the flash changes of its own accord: its own rate, the end of the longest play, a blink's pause.
    constexpr Timer timer(const SequenceSettings& s) const {
        const bool own = s.source == FlashSource::own_rate;
        if (state_ == State::lit)
            return Timer{true, after(since_, own ? s.on_us : built_in::longest_play_us)};
        if (state_ == State::paused) return Timer{true, after(fell_, built_in::blink_us)};
        return Timer{own && state_ == State::dark, after(since_, s.dark_us)};
    }

    /// The flash is in its bright phase, or steady.
    constexpr bool lit() const { return state_ >= State::lit; }
    /// Time since the flash began; forever_us once it has outlasted every pattern. Valid while lit.
    constexpr Span elapsed_us(Moment now) const {
        return state_ == State::steady ? forever_us : core::elapsed_us(now, since_);
    }
    /// What has to fit into the present flash, lest it end first; forever_us: not known. Following: the least
    /// of the last two on times less an eighth (flashers jitter, thermal ones by 5-15 %, from memory).
    constexpr Span fits_us() const { return fits_us_; }

private:
    enum class State : uint8_t {
        hidden,
        dark,
        paused, ///< dark, but a rise would only carry the flash on: the line chatters
        lit,
        steady, ///< lit for longer than any pattern plays
    };

    constexpr void hide() {
        state_ = State::hidden;
        first_ = true;
        pending_on_ = 0;
    }

    constexpr void rise(Moment now, const SequenceSettings& s) {
        const bool resumes = state_ == State::paused;
        state_ = State::lit;
        if (resumes) return;
        learn();
        since_ = now;
        const Span on_us =
            recent_[0] == 0 ? s.on_prior_us : Units::to_us(recent_[0] < recent_[1] ? recent_[0] : recent_[1]);
        fits_us_ = on_us == 0 ? forever_us : static_cast<Span>(on_us - (on_us >> 3));
    }

    constexpr void fall(Moment now) {
        const bool timed = state_ == State::lit;
        state_ = timed ? State::paused : State::dark;
        fell_ = now;
        pending_on_ = timed ? Units::down(core::elapsed_us(now, since_)) : uint16_t{0};
    }

    /// The last flash was no cancelled one, as the side is still shown. A request's first one may have been
    /// joined midway: it counts only while nothing better is known.
    constexpr void learn() {
        const uint16_t on = pending_on_;
        if (on == 0) return;
        pending_on_ = 0;
        const bool first = first_;
        first_ = false;
        if (first && recent_[0] != 0) return;
        recent_[1] = first || unsure_ ? on : recent_[0];
        recent_[0] = on;
        unsure_ = first;
    }

    Moment since_{};           ///< the present phase; following: the present or last flash
    Moment fell_{};            ///< following: the end of the last flash
    Span fits_us_{forever_us}; ///< for the present flash
    uint16_t recent_[2];       ///< the last two on times in 64 us; 0: not known
    uint16_t pending_on_{0};   ///< the last on time in 64 us, until the next flash shows that it was none cut
    State state_;
    bool first_ : 1;  ///< the present flash is the first since the side is shown
    bool unsure_ : 1; ///< such a flash is all that is known
};

} // namespace core
} // namespace winkhold
