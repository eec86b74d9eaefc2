/// All that a board does: raw taps in, brightness of every lamp out.
#pragma once

#include "winkhold/core/plain_taps.hpp"
#include "winkhold/core/sequence.hpp"

namespace winkhold {
namespace core {

/// Decoder, plain taps and sequence, stepped as one. A late step catches up deadline by deadline through all
/// three, so it leads to the same frames.
///
///     Board board{Settings{}, SequenceSettings{}, groups, 4};
///     for (;;)
///         if (board.step(Micros{clock_us()}, Lines{read_port()}))
///             for (uint8_t i = 0; i < 4; ++i) send(i, board.sequence().frame(i));
class Board {
public:
    /// `settings` must pass check(), `timing` and the groups theirs; the groups are not copied and must
    /// outlive the board.
    constexpr Board(const Settings& settings, const SequenceSettings& timing, const LampGroup* groups,
                    uint8_t count)
        : decoder_(settings), taps_(settings), sequence_(timing, groups, count) {}

    /// The frames from `now` on, given the levels from `now` on. False if all frames are as after the last
    /// step.
    constexpr bool step(Micros now, Lines lines) {
        bool moved = false;
        while (wake_.due(now) && wake_.at.count_us != now.count_us)
            if (at(wake_.at, lines_)) moved = true;
        if (wake_.due(now) || lines != lines_)
            if (at(now, lines)) moved = true;
        return moved;
    }

    /// When to call step() again if no line changes before.
    constexpr Alarm wake() const { return wake_; }

    /// Every tap as it has settled; the last step() left it so.
    constexpr Lines settled() const { return settled_lines(decoder_, taps_.settled()); }
    /// Goes on with other settings, which must pass check(), as Decoder::retune().
    constexpr void retune(const Settings& settings) {
        decoder_.retune(settings);
        taps_.retune(settings);
    }

    /// For its faults and lines; the board has stepped it.
    constexpr const Decoder& decoder() const { return decoder_; }
    /// For the frames of its groups; the board has stepped it.
    constexpr const Sequence& sequence() const { return sequence_; }

private:
    constexpr bool at(Micros now, Lines lines) {
        lines_ = lines;
        const Indication shown = decoder_.step(now, lines);
        const bool moved = sequence_.step(now, shown, settled_lines(decoder_, taps_.step(now, lines)));
        Soonest soonest(moment(now));
        add(decoder_.wake(), soonest);
        add(taps_.wake(), soonest);
        add(sequence_.wake(), soonest);
        wake_ = alarm_in(now, soonest.wait_us());
        return moved;
    }

    static constexpr void add(Alarm alarm, Soonest& soonest) {
        soonest.add(Timer{alarm.armed, moment(alarm.at)});
    }

    Decoder decoder_;
    PlainTaps taps_;
    Sequence sequence_;
    Alarm wake_;
    Lines lines_;
};

} // namespace core
} // namespace winkhold
