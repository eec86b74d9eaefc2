/// The bike's rhythm: what its flashes have taught, and how far that can be trusted. One for both lines,
/// because one flasher drives them. It learns from settled edges alone, never from what was shown.
#pragma once

#include "winkhold/core/settings.hpp"

namespace winkhold {
namespace core {

/// Learned durations are kept in units of 64 us (4.19 s in 16 bits) to stay small.
struct Units {
    /// In whole units of 64 us, rounded down. At most 4.19 s.
    static constexpr uint16_t down(Span us) { return static_cast<uint16_t>(us >> 6); }
    /// In whole units of 64 us, rounded up.
    static constexpr uint16_t up(Span us) { return down(static_cast<Span>(us + 63u)); }
    /// Back to us: a multiple of 64.
    static constexpr Span to_us(uint16_t units) { return static_cast<Span>(static_cast<Span>(units) << 6); }
};

/// The least and the most of the last 24 to 48 durations: those of the present block of 24, and of the one
/// before. Nothing fades.
class Range {
public:
    /// `may_forget`: a full block gives way to a new one; otherwise it goes on.
    WINKHOLD_OUTLINED constexpr void add(uint16_t units, bool may_forget) {
        if (count_ == block && may_forget) {
            before_ = now_;
            now_ = Extremes{};
            count_ = 0;
        }
        if (units < now_.least) now_.least = units;
        if (units > now_.most) now_.most = units;
        if (count_ != block) ++count_;
    }

    /// The shortest of them, in units; 0xffff while none is known.
    constexpr uint16_t least() const { return before_.least < now_.least ? before_.least : now_.least; }
    /// The longest of them, in units; 0 while none is known.
    constexpr uint16_t most() const { return before_.most > now_.most ? before_.most : now_.most; }
    /// How many are known; block at most, if it is more.
    constexpr uint8_t known() const { return before_.most != 0 ? block : count_; }

    /// How far a duration near `units` may lie outside of what is known: as far as the known ones lie apart,
    /// but at most an eighth; and a share of it, because few say little: 1/2 after one, 1/4 after two, 1/8
    /// after three (thermal flashers jitter 5-15 %, from memory), 1/16 after four, 1/64 after sixteen.
    WINKHOLD_OUTLINED constexpr uint16_t margin(uint16_t units, const Context& c) const {
        if (!c.spread) return 0;
        const uint8_t known = this->known();
        const uint8_t unsure = known >= 16 ? 6 : known > 4 ? 4 : known;
        const uint16_t eighth = static_cast<uint16_t>(units >> 3);
        uint16_t apart = static_cast<uint16_t>(most() - least());
        if (apart > eighth) apart = eighth;
        return static_cast<uint16_t>(apart + (units >> unsure));
    }

    /// Clearly shorter than all that is known, which must be two at least.
    constexpr bool below(uint16_t units, const Context& c) const {
        return exceeds(least(), units, least(), c);
    }
    /// Clearly longer.
    constexpr bool above(uint16_t units, const Context& c) const { return exceeds(units, most(), most(), c); }

private:
    static constexpr uint8_t block = 24;
    struct Extremes {
        uint16_t least{0xffff};
        uint16_t most{0};
    };

    WINKHOLD_OUTLINED constexpr bool exceeds(uint16_t more, uint16_t less, uint16_t edge,
                                             const Context& c) const {
        return known() >= 2 && more > less &&
               static_cast<uint16_t>(more - less) >
                   static_cast<uint16_t>(margin(edge, c) + Units::up(c.cut_margin_us));
    }

    Extremes now_;
    Extremes before_;
    uint8_t count_{0}; ///< in the present block
};

/// Quickness is earned by a regular rhythm and lost by an irregular one. Trust counts regular flashes: from 4
/// of them on a dark gap is bridged no longer than the gaps seen so far ask for, from 7 on a flash cut short
/// proves a cancel once it has been dark for a blink, from 32 on at once. Anything irregular costs all of it,
/// and the next 96 flashes.
class Rhythm {
public:
    constexpr Rhythm() : slow_(0), fast_(0) {}

    /// A dark gap, of a flash that took `period_us` from rise to rise. Flashes faster than any flasher should
    /// be (a lamp is out, an alarm) must not make the usual ones forgotten, nor are they believed before the
    /// 31st.
    WINKHOLD_OUTLINED constexpr void learn_gap(uint16_t gap, Span period_us) {
        if (period_us >= built_in::fast_period_us) {
            fast_ = 0;
            if (slow_ != slow_known) ++slow_;
        } else if (fast_ != fast_known) {
            ++fast_;
        }
        gaps_.add(gap, may_forget());
    }
    /// One on time of a flash, in units.
    constexpr void learn_on(uint16_t on) { ons_.add(on, may_forget()); }

    /// A regular flash.
    constexpr void earn_trust() {
        if (trust_ < most_trust) ++trust_;
    }
    /// Something that no regular rhythm does.
    constexpr void lose_trust() { trust_ = least_trust; }
    /// A new rhythm has shown itself: as good as any.
    constexpr void begin_anew() { trust_ = 0; }
    /// The line chatters: its edges can't be trusted to end a side.
    constexpr void doubt() {
        if (trust_ > 0) trust_ = 0;
    }
    /// Trust was lost, and too few regular flashes since have made up for it.
    constexpr bool is_irregular() const { return trust_ < 0; }
    /// Enough trust that a flash cut short proves a cancel.
    constexpr bool trusts_cuts() const { return trust_ >= 7; }
    /// As much trust as there is.
    constexpr bool trusts_fully() const { return trust_ == most_trust; }

    /// Shorter than the gaps of this rhythm: the flash before has not ended.
    constexpr bool too_soon(uint16_t gap, const Context& c) const { return gaps_.below(gap, c); }
    /// Longer than the gaps of this rhythm.
    constexpr bool too_late(uint16_t gap, const Context& c) const { return gaps_.above(gap, c); }
    /// A flash shorter than those of this rhythm: cut short.
    constexpr bool too_short(uint16_t on, const Context& c) const { return ons_.below(on, c); }

    /// Enough is known, and trusted, to say how long a gap may become.
    WINKHOLD_OUTLINED constexpr bool knows_gap() const {
        return trust_ >= 0 && (slow_ == slow_known || fast_ == fast_known);
    }
    /// How long the next dark gap may become, last high to settled rise. Unit: us, a multiple of 64. Valid if
    /// knows_gap().
    WINKHOLD_OUTLINED constexpr Span expected_gap_us(const Context& c) const {
        const uint16_t most = gaps_.most();
        uint16_t units = static_cast<uint16_t>(most + gaps_.margin(most, c));
        if (c.spread && trust_ < 4) units = static_cast<uint16_t>(units + (most >> 2));
        return Units::to_us(units);
    }

private:
    static constexpr int8_t most_trust = 32;
    static constexpr int8_t least_trust = -96;
    static constexpr uint8_t slow_known = 4;
    static constexpr uint8_t fast_known = 31;

    constexpr bool may_forget() const { return fast_ == 0 || fast_ == fast_known; }

    Range gaps_;
    Range ons_;
    int8_t trust_{0};
    uint8_t slow_ : 3; ///< gaps of flashes that are not fast
    uint8_t fast_ : 5; ///< fast flashes in a row
};

} // namespace core
} // namespace winkhold
