/// Settings that outlast the power: two copies in the EEPROM, each with version, vehicle and CRC.
#pragma once

#include "bike.hpp"

#include <avr/eeprom.h>
#include <avr/io.h>
#include <util/atomic.h>
#include <util/crc16.h>

namespace winkhold {
namespace firmware {

/// What is kept.
struct Kept {
    core::Settings settings;
    core::SequenceSettings timing;
};

/// One copy as it lies in the EEPROM. Another layout or meaning of `kept` takes another version.
struct KeptCopy {
    uint8_t version;
    uint32_t vehicle_hash;
    Kept kept;
    uint16_t crc; ///< CRC-16/IBM-3740 of all before: check value 0x29b1 (of "123456789")
};

/// Nothing here waits for the EEPROM: a byte takes 3.4 ms to write (data sheet, from memory), and poll()
/// starts the next one when it can. A copy is written only while the other one is whole.
class Store {
public:
    /// What was kept; what the bike has been made with if nothing was, if it was for another vehicle, or if
    /// both copies are damaged. One that is damaged or old is written anew from the other.
    /// Before anything is decoded: waits for a byte that was being written when a reset came.
    const Kept& load() {
        eeprom_busy_wait();
        const bool first = read(0);
        const KeptCopy taken = copy_;
        const bool second = read(1);
        if (!first && !second) {
            copy_ = KeptCopy{version, bike::vehicle_hash, Kept{bike::settings, bike::timing}, 0};
            return copy_.kept;
        }
        if (first) copy_ = taken;
        place_ = first ? 1 : 0;
        left_ = 1;
        at_ = 0;
        return copy_.kept;
    }

    /// As loaded; change it, and then keep() it.
    Kept& kept() { return copy_.kept; }

    /// Keeps kept() as it is now; done when idle(). Begins with the copy that was being written, so that the
    /// other one stays whole.
    void keep() {
        copy_.crc = crc_of(copy_);
        left_ = 2;
        at_ = 0;
    }

    /// Interrupts on. Starts to write one byte, if one has to be written and the EEPROM is ready.
    void poll() {
        if (idle() || !eeprom_is_ready()) return;
        const uint8_t byte = reinterpret_cast<const uint8_t*>(&copy_)[at_];
        if (read_byte(place_, at_) != byte) write_byte(byte);
        at_ = static_cast<uint8_t>(at_ + 1);
        if (at_ != sizeof(KeptCopy)) return;
        at_ = 0;
        left_ = static_cast<uint8_t>(left_ - 1);
        place_ ^= 1;
    }
    bool idle() const { return left_ == 0; }

private:
    static constexpr uint8_t version = 1;
    static constexpr uint8_t apart = 128;
    static constexpr uint8_t begin = 16; // what power cuts damage most, from hearsay, is byte 0
    static_assert(sizeof(KeptCopy) <= apart, "copies don't overlap");

    static uint16_t address(uint8_t place, uint8_t at) {
        return static_cast<uint16_t>(begin + (place != 0 ? apart : 0) + at);
    }
    static uint8_t read_byte(uint8_t place, uint8_t at) {
        EEAR = address(place, at);
        EECR = static_cast<uint8_t>(EECR | _BV(EERE));
        return EEDR;
    }
    /// To where read_byte() has looked.
    static void write_byte(uint8_t byte) {
        EEDR = byte;
        ATOMIC_BLOCK(ATOMIC_FORCEON) { // the chip wants the second within four clocks of the first
            EECR = _BV(EEMPE);
            EECR = static_cast<uint8_t>(EECR | _BV(EEPE));
        }
    }

    static uint16_t crc_of(const KeptCopy& copy) {
        const uint8_t* const bytes = reinterpret_cast<const uint8_t*>(&copy);
        uint16_t crc = 0xffff;
        for (uint8_t i = 0; i < sizeof(KeptCopy) - sizeof copy.crc; ++i)
            crc = _crc_xmodem_update(crc, bytes[i]);
        return crc;
    }

    /// Into copy_; true if it is whole, of this version and vehicle, and passes the core's own checks.
    bool read(uint8_t place) {
        uint8_t* const bytes = reinterpret_cast<uint8_t*>(&copy_);
        for (uint8_t i = 0; i < sizeof(KeptCopy); ++i)
            bytes[i] = read_byte(place, i);
        return copy_.crc == crc_of(copy_) && copy_.version == version &&
               copy_.vehicle_hash == bike::vehicle_hash &&
               check(copy_.kept.settings) == core::SettingsError::none &&
               check(copy_.kept.timing, bike::groups, sizeof(bike::groups) / sizeof(bike::groups[0])) ==
                   core::SequenceError::none;
    }

    KeptCopy copy_;
    uint8_t place_{0}; ///< which of the two copies is written, or next
    uint8_t left_{0};  ///< copies to write
    uint8_t at_{0};
};

} // namespace firmware
} // namespace winkhold
