/// CRC-32 as zip and Ethernet have it, four bits at a time: small enough for a board, quick enough for its
/// port.
#pragma once

#include <stdint.h>

namespace winkhold {
namespace link {

/// CRC-32/ISO-HDLC (ISO 3309; reflected polynomial 0xedb88320). Check value of "123456789": 0xcbf43926.
/// Sixteen table entries instead of 256: on an 8-bit board about 150 cycles a byte, where bit by bit takes
/// 139-207 and the large table 58, and a kilobyte.
class Crc32 {
public:
    /// Takes in one more byte.
    constexpr void add(uint8_t byte) {
        state_ ^= byte;
        state_ = (state_ >> 4) ^ table(static_cast<uint8_t>(state_ & 15u));
        state_ = (state_ >> 4) ^ table(static_cast<uint8_t>(state_ & 15u));
    }
    /// Of all bytes so far.
    constexpr uint32_t value() const { return ~state_; }

private:
    static constexpr uint32_t table(uint8_t nibble) {
        constexpr uint32_t entries[16] = {
            0x00000000, 0x1db71064, 0x3b6e20c8, 0x26d930ac, 0x76dc4190, 0x6b6b51f4, 0x4db26158, 0x5005713c,
            0xedb88320, 0xf00f9344, 0xd6d6a3e8, 0xcb61b38c, 0x9b64c2b0, 0x86d3d2d4, 0xa00ae278, 0xbdbdf21c};
        return entries[nibble];
    }

    uint32_t state_{0xffffffff};
};

} // namespace link
} // namespace winkhold
