/// Indication and settled taps -> brightness of every lamp.
#pragma once

#include "winkhold/core/decoder.hpp"
#include "winkhold/core/flash.hpp"
#include "winkhold/core/lamps.hpp"

namespace winkhold {
namespace core {

/// What one group shows: its first `lit` lamps at `level`, all others at `rest`.
struct GroupFrame {
    uint16_t lit{0};
    uint8_t level{0};
    uint8_t rest{0};

    /// Of 255, of the lamp so numbered, from 0.
    constexpr uint8_t brightness(uint16_t lamp) const { return lamp < lit ? level : rest; }
};

constexpr bool operator==(GroupFrame a, GroupFrame b) {
    return a.lit == b.lit && a.level == b.level && a.rest == b.rest;
}
constexpr bool operator!=(GroupFrame a, GroupFrame b) {
    return !(a == b);
}

/// `whole` in `parts` equal parts, rounded down; the core has no division. Its bits leave at the top as those
/// of the answer come in at the bottom.
constexpr Span share_us(Span whole_us, uint16_t parts) {
    Span share_us = whole_us;
    Span rest = 0;
    for (uint8_t bits = 24; bits != 0; --bits) {
        rest = static_cast<Span>(rest << 1);
        if ((share_us & half_range_us) != 0) ++rest;
        share_us = static_cast<Span>((share_us << 1) & forever_us);
        if (rest < parts) continue;
        rest = static_cast<Span>(rest - parts);
        ++share_us;
    }
    return share_us;
}

/// From one block to the next so that all of them, the last one with a step of its own, come within
/// `fits_us`: the pattern's step, or less.
constexpr Span adapted_step_us(const LampGroup& group, Span fits_us) {
    const Span step_us = group.pattern.step_us;
    const uint16_t blocks = group.blocks();
    return static_cast<Span>(step_us * blocks) <= fits_us ? step_us : share_us(fits_us, blocks);
}

/// A pattern at one moment of a flash.
struct Play {
    uint16_t filled; ///< lamps or levels of brightness
    Span next_us;    ///< when it changes next, from the beginning of the flash; forever_us: no more
};

/// What a group shows `elapsed_us` after its flash began, one block every `step_us`.
constexpr Play play(const LampGroup& group, Span step_us, Span elapsed_us) {
    const uint16_t to_fill = group.to_fill();
    const uint16_t block = group.pattern.block;
    uint16_t filled = 0;
    Span came_us = 0; // when the last block came
    while (true) {
        filled = to_fill - filled > block ? static_cast<uint16_t>(filled + block) : to_fill;
        if (filled == to_fill) break;
        const Span next_us = static_cast<Span>(came_us + step_us);
        if (next_us > elapsed_us) return Play{filled, next_us};
        came_us = next_us;
    }
    if (group.pattern.stay_us == 0) return Play{filled, forever_us};
    const Span end_us = static_cast<Span>(came_us + group.pattern.stay_us);
    return elapsed_us < end_us ? Play{filled, end_us} : Play{0, forever_us};
}

/// How long a group's play lasts: until the last block has had a step, or its stay. Unit: us.
constexpr Span play_us(const LampGroup& group) {
    if (group.all_at_once()) return group.pattern.stay_us;
    const Span step_us = group.pattern.step_us;
    const Span fill_us = static_cast<Span>(step_us * group.blocks());
    return group.pattern.stay_us > step_us ? static_cast<Span>(fill_us - step_us + group.pattern.stay_us)
                                           : fill_us;
}

/// The settings with an own rate filled in from the groups, where it is left to them.
constexpr SequenceSettings paced_by(SequenceSettings s, const LampGroup* groups, uint8_t count) {
    if (s.source != FlashSource::own_rate || s.on_us != 0 || s.dark_us != 0) return s;
    for (uint8_t i = 0; i < count; ++i) {
        if (groups[i].job != Job::turn) continue;
        if (s.on_us < play_us(groups[i])) s.on_us = play_us(groups[i]);
        if (s.dark_us < groups[i].pattern.blank_us) s.dark_us = groups[i].pattern.blank_us;
    }
    return s;
}

/// Why check() refuses a sequence: the first thing that is wrong with it.
enum class SequenceError : uint8_t {
    none,
    on_out_of_range,
    dark_out_of_range,
    prior_out_of_range,
    no_rate, ///< own rate, and neither on and dark time nor a group with a stay and a blank
    bad_group,
};

/// First thing wrong, or none.
constexpr SequenceError check(const SequenceSettings& settings, const LampGroup* groups, uint8_t count) {
    for (uint8_t i = 0; i < count; ++i)
        if (check(groups[i]) != LampError::none) return SequenceError::bad_group;
    const SequenceSettings s = paced_by(settings, groups, count);
    if (s.on_us > built_in::longest_play_us) return SequenceError::on_out_of_range;
    if (s.dark_us > built_in::longest_play_us) return SequenceError::dark_out_of_range;
    if (s.on_prior_us > built_in::longest_on_us) return SequenceError::prior_out_of_range;
    if (s.source == FlashSource::own_rate && (s.on_us == 0 || s.dark_us == 0)) return SequenceError::no_rate;
    return SequenceError::none;
}

/// The settled taps in one: what the decoder has settled, and the plain taps beside it.
constexpr Lines settled_lines(const Decoder& decoder, Lines plain) {
    return plain.with(Lines::left, decoder.line(Side::left).on())
        .with(Lines::right, decoder.line(Side::right).on());
}

/// Plays any number of lamp groups. They belong to the caller and must outlive it, constexpr in firmware;
/// groups and settings must pass check().
///
/// Call step() whenever the indication or a settled tap changes, and at wake() if nothing does. Stepping more
/// often gives the same frames. All turn lamps of a side begin at the same moment; stop, tail and marker
/// lamps change in the very step in which their tap does.
///
///     constexpr LampGroup groups[] = {{Job::turn, Indication::left, 6, outward(30_ms)}, ...};
///     Sequence sequence{SequenceSettings{}, groups, 4};
///     if (sequence.step(now, decoder.step(now, lines), settled_lines(decoder, taps.step(now, lines))))
///         for (uint8_t i = 0; i < 4; ++i) send(i, sequence.frame(i));
class Sequence {
public:
    /// `settings` and the `count` groups must pass check(); the groups are not copied and must outlive the
    /// sequence.
    constexpr Sequence(const SequenceSettings& settings, const LampGroup* groups, uint8_t count)
        : groups_(groups), settings_(paced_by(settings, groups, count)), count_(count) {}

    /// The frames from `now` on, given what is shown and settled from `now` on. False if all frames are as
    /// after the last step. `now` must not be before the last step.
    constexpr bool step(Micros now, Indication shown, Lines settled) {
        bool moved = false;
        while (wake_.due(now) && wake_.at.count_us != now.count_us) {
            at(wake_.at, shown_, settled_);
            moved = true;
        }
        if (!wake_.due(now) && shown == shown_ && settled == settled_) return moved;
        at(now, shown, settled);
        return true;
    }

    /// When to call step() again if nothing changes before.
    constexpr Alarm wake() const { return wake_; }

    /// What a group shows since the last step.
    constexpr GroupFrame frame(uint8_t group) const {
        const LampGroup& g = groups_[group];
        const bool is_shown = shows_any(g);
        uint8_t level = g.full;
        if (g.job == Job::turn) {
            if (!is_shown) return GroupFrame{0, 0, g.dimmed};
            const Flash& flash = flash_of(g);
            const uint16_t filled = flash.lit() ? play_of(g, flash).filled : uint16_t{0};
            if (filled == 0) return GroupFrame{};
            if (g.pattern.fills == Pattern::Fills::lamps) return GroupFrame{filled, g.full, 0};
            level = static_cast<uint8_t>(filled);
        } else if (g.job == Job::stop) {
            level = g.stop_level(settled_);
        } else {
            if (is_shown) level = g.dimmed;
            if (g.job == Job::tail && !settled_.has(Lines::tail)) level = 0;
        }
        return GroupFrame{g.count, level, 0};
    }

    /// The phases that a side's lamps play in.
    constexpr const Flash& flash(Side side) const { return flash_[static_cast<uint8_t>(side)]; }
    /// With an own rate filled in, if it was left to the groups.
    constexpr const SequenceSettings& settings() const { return settings_; }

private:
    constexpr void at(Micros now, Indication shown, Lines settled) {
        now_ = moment(now);
        const bool joins = (static_cast<uint8_t>(shown) & ~static_cast<uint8_t>(shown_)) != 0;
        shown_ = shown;
        settled_ = settled;
        Soonest soonest(now_);
        for (uint8_t i = 0; i < 2; ++i) {
            const Side side = static_cast<Side>(i);
            if (settings_.source == FlashSource::following)
                flash_[i].follow(shows(shown, side), settled.has(side), now_, settings_);
            else
                flash_[i].beat(shows(shown, side), joins, now_, settings_);
            soonest.add(flash_[i].timer(settings_));
        }
        for (uint8_t i = 0; i < count_; ++i) {
            const LampGroup& g = groups_[i];
            const Flash& flash = flash_of(g);
            if (g.job != Job::turn || !shows_any(g) || !flash.lit()) continue;
            const Span next_us = play_of(g, flash).next_us;
            if (next_us == forever_us) continue;
            // timed from now: the flash may have begun longer ago than a deadline can be off
            soonest.add(Timer{true, after(now_, static_cast<Span>(next_us - flash.elapsed_us(now_)))});
        }
        wake_ = alarm_in(now, soonest.wait_us());
    }

    constexpr bool shows_any(const LampGroup& g) const {
        return (static_cast<uint8_t>(shown_) & static_cast<uint8_t>(g.side)) != 0;
    }
    /// A group that shows either side plays the left one's flashes while both are shown.
    constexpr const Flash& flash_of(const LampGroup& g) const {
        return flash_[shows(g.side, Side::left) && (g.side == Indication::left || shows(shown_, Side::left))
                          ? 0
                          : 1];
    }
    constexpr Play play_of(const LampGroup& g, const Flash& flash) const {
        return play(g, adapted_step_us(g, flash.fits_us()), flash.elapsed_us(now_));
    }

    const LampGroup* groups_;
    Flash flash_[2];
    SequenceSettings settings_;
    Alarm wake_;
    Moment now_{}; ///< of the last frames
    Indication shown_{Indication::off};
    Lines settled_;
    uint8_t count_;
};

} // namespace core
} // namespace winkhold
