/// Lines that wait for the port. Whole lines of the least important kind are dropped first; all are counted.
#pragma once

#include "winkhold/link/line.hpp"

namespace winkhold {
namespace link {

/// How much must stay free behind a line that goes in, so that what matters more still fits. Unit: bytes.
enum class Importance : uint8_t {
    edge = 0,      ///< what a recording is made of
    answer = 40,   ///< what the board makes of it, and answers
    report = 80,   ///< counters, heartbeat, settings, hello
    picture = 140, ///< lamp frames
};

/// A ring of 256 bytes: its indices wrap by themselves. One writes, one reads; they may be a main loop and an
/// interrupt, since each changes one index only.
class LineQueue {
public:
    /// Begins the next line; its number counts, whether or not it then finds room.
    LineWriter& begin(char kind) {
        line_.begin(number_++, kind);
        return line_;
    }
    /// Ends that line and puts it in. False: there is no room, and it is gone.
    bool end(Importance importance) {
        line_.finish();
        const uint8_t room = static_cast<uint8_t>(tail_ - head_ - 1);
        if (static_cast<uint16_t>(line_.size() + static_cast<uint8_t>(importance)) > room) {
            ++dropped_;
            return false;
        }
        uint8_t at = head_;
        for (uint8_t i = 0; i < line_.size(); ++i)
            ring_[at++] = line_.text()[i];
        head_ = at;
        return true;
    }

    /// Nothing waits.
    bool empty() const { return head_ == tail_; }
    /// The next byte to send; only if not empty().
    char take() {
        const uint8_t at = tail_;
        tail_ = static_cast<uint8_t>(at + 1);
        return ring_[at];
    }
    /// Lines that found no room.
    uint32_t dropped() const { return dropped_; }

private:
    LineWriter line_;
    uint16_t number_{0};
    uint32_t dropped_{0};
    volatile uint8_t head_{0};
    volatile uint8_t tail_{0};
    char ring_[256]{};
};

} // namespace link
} // namespace winkhold
