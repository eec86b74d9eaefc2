/// What the taps did, from the interrupt that sees it to the main loop that makes sense of it.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/core/micros.hpp"

namespace winkhold {
namespace firmware {

/// The levels from a moment on.
struct Change {
    core::Micros at;
    core::Lines lines;
};

/// A ring of changes in order of time. add() is the interrupt's, take() the main loop's with interrupts off.
class Changes {
public:
    /// Changes of several lines within `window_us` become one, if the main loop hasn't come to them: a supply
    /// that dips takes all lines along, and a step for each would take longer than they do. A full ring takes
    /// nothing, and is behind() until it is told of the levels again and has room.
    void add(core::Micros at, core::Lines lines, uint16_t window_us) {
        if (!empty()) {
            Change& last = ring_[(head_ - 1) & mask];
            if (elapsed_us(at, last.at) < window_us) {
                last.lines = lines;
                behind_ = false;
                return;
            }
        }
        const uint8_t next = (head_ + 1) & mask;
        behind_ = next == tail_;
        if (behind_) return;
        ring_[head_] = Change{at, lines};
        head_ = next;
    }
    bool behind() const { return behind_; }

    bool empty() const { return head_ == tail_; }

    /// The oldest one; there must be one.
    Change take() {
        const Change oldest = ring_[tail_];
        tail_ = (tail_ + 1) & mask;
        return oldest;
    }

private:
    // One a window at most, and few steps of the core last longer than that.
    static constexpr uint8_t mask = 7;

    Change ring_[mask + 1];
    uint8_t head_{0};
    uint8_t tail_{0};
    bool behind_{false};
};

} // namespace firmware
} // namespace winkhold
