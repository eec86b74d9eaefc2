/// A bike without end, drawn from a seed: requests, flashes, and the faults of lines. Integers alone, so that
/// every machine draws the same.
#pragma once

#include <stdint.h>

namespace replay {

class Stream {
public:
    explicit Stream(uint32_t seed) : seed_(seed) {}

    /// Until the lines change next. Unit: us. Then lines() are the levels.
    uint32_t next_us() {
        if (bounces_ != 0) { // an even number of changes brings the line back to where it settles
            --bounces_;
            flip(bounced_);
            return 60 + below(bounces_ == 0 ? 4'000 : 1'500);
        }
        const uint32_t wait_us = left_us_;
        left_us_ = 0;
        phase();
        return wait_us;
    }
    uint8_t lines() const { return lines_; }
    /// Drawn from the same seed. `limit`: at least 1.
    uint32_t below(uint32_t limit) {
        seed_ ^= seed_ << 13;
        seed_ ^= seed_ >> 17;
        seed_ ^= seed_ << 5;
        return (seed_ >> 4) % limit;
    }

private:
    enum Bit : uint8_t { left = 1, right = 2, brake = 4, tail = 8, supply = 16 };
    /// What a ride has to bear; a request draws one.
    enum class Fault : uint8_t { none, bounce, jitter, lamp_out, stray, dip, stuck, chatter, skew, key_off };

    void flip(uint8_t bits) { lines_ = static_cast<uint8_t>(lines_ ^ bits); }

    void request() {
        show_ = static_cast<uint8_t>(below(4));
        fault_ = static_cast<Fault>(below(10));
        flashes_ = static_cast<uint8_t>(1 + below(14));
        if (below(5) == 0) {
            on_us_ = 150'000 + below(400'000);
            dark_us_ = 150'000 + below(600'000);
        }
        flip(static_cast<uint8_t>(below(3) == 0 ? tail : 0));
        if (show_ == 0) flashes_ = static_cast<uint8_t>(1 + below(4));
    }

    void phase() {
        if (flashes_ == 0 && !lit_) request();
        if (lit_ && flashes_ != 0) --flashes_;
        lit_ = !lit_;
        const uint8_t turn = lit_ ? show_ : 0;
        const uint8_t first =
            fault_ == Fault::skew && show_ == 3 ? static_cast<uint8_t>(lit_ ? left : right) : turn;
        lines_ = static_cast<uint8_t>((lines_ & (tail | supply)) | (below(4) == 0 ? brake : 0) | (first & 3));
        left_us_ = lit_ ? on_us_ : dark_us_;
        left_us_ += below(fault_ == Fault::jitter ? 90'000 : 2'000);
        if (fault_ == Fault::lamp_out) left_us_ = (left_us_ >> 1) - (left_us_ >> 4);
        if (fault_ == Fault::stuck && lit_ && below(4) == 0) left_us_ = 3'600'000;
        lines_ = static_cast<uint8_t>(fault_ == Fault::key_off && flashes_ == 0 ? 0 : lines_ | supply);
        disturb();
    }

    void disturb() {
        bounces_ = 0;
        switch (fault_) {
        case Fault::bounce:
            return disturb(static_cast<uint8_t>(show_ & 3), 6);
        case Fault::stray:
            return disturb(static_cast<uint8_t>(1 + below(2)), 2);
        case Fault::dip:
            return disturb(static_cast<uint8_t>(supply | (lines_ & 3)), 2);
        case Fault::chatter:
            return disturb(static_cast<uint8_t>(show_ & 3), 16);
        case Fault::skew:
            return disturb(static_cast<uint8_t>(lit_ ? right : left), 1);
        default:
            return;
        }
    }
    void disturb(uint8_t bits, uint8_t changes) {
        bounced_ = bits;
        bounces_ = changes;
    }

    uint32_t seed_;
    uint32_t left_us_{1'000};
    uint32_t on_us_{353'000};
    uint32_t dark_us_{353'000};
    uint8_t lines_{supply};
    uint8_t show_{0};
    uint8_t flashes_{0};
    uint8_t bounces_{0};
    uint8_t bounced_{0};
    bool lit_{false};
    Fault fault_{Fault::none};
};

} // namespace replay
