/// Two lines -> what the rider asked for: cut-short release, hazard or side change, key off.
#pragma once

#include "winkhold/core/cadence.hpp"
#include "winkhold/core/lines.hpp"
#include "winkhold/core/watch.hpp"

namespace winkhold {
namespace core {

/// Judges settled edges of both lines. It never looks at holds, so its verdicts are the same for every hold
/// time.
///
/// Rises: both sides within the handover window, the first still lit, are a hazard. A side that rises alone
/// takes over from the other, unless that one is lit right then: a side change doesn't light both. Falls: a
/// side that goes dark while the other stays lit beyond the fall window has ended. A line on for over 1 s is
/// no flash and does not count as lit.
///
/// At one moment tell supply() first, then falls, then rises (those that only carry a flash on before true
/// ones), then expire(): which tap has the lower number must make no difference.
class Intent {
public:
    /// What a call ends: sides to let go until they rise again, as a mask like Indication.
    using LetGo = uint8_t;

    constexpr LetGo rise(Side side, Micros now, const Settings& s) {
        Line& line = at(side);
        Line& rival = at(other(side));
        line.period_us = line.cadence.rise(now, s);
        const bool newcomer = line.gone;
        line.gone = false;
        if (line.cadence.resumed()) return 0;
        // half a hazard is still lit when the other half follows; a flick to the other side is not
        const bool together = rival.cadence.on() && rival.cadence.rose_within(s.handover_us, now);
        const bool after_hazard = last_risen_ == 3;
        const bool takes_turn = rival.cadence.timing() && (last_risen_ & mask(side)) == 0;
        last_risen_ = static_cast<LetGo>(together || lit(rival, now) ? 3 : mask(side));
        if (s.handover_us == 0) return 0;
        if (together)
            as_one_ = rival.cadence.rose_within(as_one_us, now) ? up_to(as_one_ + 1, 3) : uint8_t{0};
        else if (!after_hazard) // the first of a hazard's two rises says nothing yet
            as_one_ = 0;
        turns_ = takes_turn && !together ? up_to(turns_ + 1, 4) : uint8_t{0};
        if (together) {
            window_ = Window::none;
            line.hidden = rival.hidden = false;
            return 0;
        }
        if (lit(rival, now)) return 0;
        // within a hazard the second side may still follow
        if (s.handover_end == HandoverEnd::at_once && !after_hazard) return let_go(mask(other(side)));
        if (window_ == Window::rise && subject_ == side) return 0; // it goes on
        line.hidden = newcomer && takes_turn && s.handover_end == HandoverEnd::delay;
        open(Window::rise, side, after(now, s.handover_us));
        return 0;
    }

    /// `last_high`: the last moment the line read high.
    constexpr LetGo fall(Side side, Micros now, Micros last_high, const Settings& s) {
        Line& line = at(side);
        const Cut cut = line.cadence.fall(last_high, line.taint == 0, s);
        line.cut = s.cut_short ? cut : Cut::no;
        if (line.taint != 0) --line.taint;
        const LetGo ends = let_go(line.cut == Cut::now ? mask(side) : LetGo{0});
        if (s.handover_us == 0) return ends;
        if (line.hidden) { // too short a flash to be a newcomer: it is never shown
            line.hidden = false;
            window_ = Window::none;
            return let_go(mask(side));
        }
        if (window_ == Window::fall && subject_ != side)
            window_ = Window::none; // both dark: a hazard's pause
        const Line& rival = at(other(side));
        if (s.fall_window_us != 0 && window_ != Window::rise && lit(rival, now)) {
            // a rival that has only just risen is rather a side change than half a hazard: don't wait as long
            const uint32_t window_us = rival.cadence.rose_within(s.handover_us, now)
                                           ? least_us(s.handover_us, s.fall_window_us)
                                           : s.fall_window_us;
            const uint32_t past_us = elapsed_us(now, last_high);
            open(Window::fall, side, after(now, past_us < window_us ? window_us - past_us : 0));
        }
        return ends;
    }

    /// The supply tap moved. It counts only once it has been seen up.
    constexpr void supply(Micros now, bool up, const Settings& s) {
        if (s.supply_gone_us == 0 || (!up && !supply_seen_)) return;
        supply_seen_ = true;
        gone_ = Alarm{!up, after(now, s.supply_gone_us)};
        // the flash that a dip splits teaches nothing in either part
        if (!up) lines_[0].taint = lines_[1].taint = 2;
    }

    constexpr LetGo expire(Micros now, const Settings& s) {
        LetGo ends = 0;
        if (window_ != Window::none && reached(now, window_ends_)) {
            if (window_ == Window::rise)
                ends = settle_rise_window();
            else if (!at(subject_).cadence.on() && lit(at(other(subject_)), now))
                ends = mask(subject_);
            window_ = Window::none;
        }
        if (gone_.due(now)) {
            gone_.armed = false;
            ends = mask(Side::left) | mask(Side::right);
        }
        for (Line& line : lines_)
            line.cadence.expire(now, s);
        return let_go(ends);
    }

    constexpr uint32_t wait_us(Micros now) const {
        return least_us(
            least_us(Alarm{window_ != Window::none, window_ends_}.wait_us(now), gone_.wait_us(now)),
            least_us(lines_[0].cadence.alarm().wait_us(now), lines_[1].cadence.alarm().wait_us(now)));
    }

    constexpr const Cadence& cadence(Side side) const { return lines_[static_cast<uint8_t>(side)].cadence; }
    /// Not shown yet, although held: a newcomer that is to be shown only when the window ends.
    constexpr bool hidden(Side side) const { return lines_[static_cast<uint8_t>(side)].hidden; }
    /// After a rise: time since the rise before, or 0 if that was not in rhythm.
    constexpr uint32_t period_us(Side side) const { return lines_[static_cast<uint8_t>(side)].period_us; }
    /// After a fall: if the flash was cut short, but the line may chatter, a dark gap lasts no longer than
    /// this.
    constexpr uint32_t longest_hold_us(Side side, const Settings& s) const {
        if (lines_[static_cast<uint8_t>(side)].cut != Cut::soon) return forever_us;
        const uint32_t settling_us = s.settle_us > s.pwm_gap_us ? s.settle_us : s.pwm_gap_us;
        return settling_us > limits::chatter_gap_us ? settling_us : limits::chatter_gap_us;
    }
    /// What both lines together show, as a mask of Fault: the sides have risen as one three times in a row;
    /// or have taken turns, flash by flash, five times.
    constexpr uint8_t notices() const {
        return static_cast<uint8_t>((as_one_ >= 3 ? as_one : 0) | (turns_ >= 4 ? alternating : 0));
    }

private:
    enum class Window : uint8_t { none, rise, fall };
    struct Line {
        Cadence cadence;
        uint32_t period_us{0};
        Cut cut{Cut::no};
        uint8_t taint{0}; ///< falls that teach nothing
        bool hidden{false};
        bool gone{true}; ///< let go, or never risen
    };

    /// Closer than two contacts of one relay; both sides on one wire are.
    static constexpr uint32_t as_one_us = 300_us;

    constexpr LetGo let_go(LetGo sides) {
        if ((sides & 1u) != 0) lines_[0].gone = true;
        if ((sides & 2u) != 0) lines_[1].gone = true;
        return sides;
    }

    static constexpr LetGo mask(Side side) { return side == Side::left ? 1 : 2; }
    constexpr Line& at(Side side) { return lines_[static_cast<uint8_t>(side)]; }
    static constexpr bool lit(const Line& line, Micros now) {
        return line.cadence.on() && line.cadence.rose_within(limits::longest_gap_us, now);
    }

    constexpr void open(Window window, Side subject, Micros ends) {
        window_ = window;
        subject_ = subject;
        window_ends_ = ends;
    }

    /// The newcomer has been alone for long enough.
    constexpr LetGo settle_rise_window() {
        window_ = Window::none;
        at(subject_).hidden = false;
        return mask(other(subject_));
    }

    static constexpr uint8_t up_to(int count, int most) {
        return static_cast<uint8_t>(count < most ? count : most);
    }

    Line lines_[2];
    Micros window_ends_{};
    Alarm gone_;
    LetGo last_risen_{0}; ///< the side that rose last, or both of a hazard
    Side subject_{Side::left};
    Window window_{Window::none};
    uint8_t as_one_{0};
    uint8_t turns_{0};
    bool supply_seen_{false};
};

} // namespace core
} // namespace winkhold
