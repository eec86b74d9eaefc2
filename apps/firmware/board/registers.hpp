/// The chain of shift registers, fed by the SPI byte by byte in its interrupt.
#pragma once

#include "bike.hpp"
#include "pins.hpp"
#include "table.hpp"

#include <avr/io.h>

namespace winkhold {
namespace firmware {

constexpr uint8_t register_bytes = (bike::registers.outputs + 7) / 8;
/// At least one, as arrays must have. Loops compare by != with the bytes: none is less than 0, which is a
/// warning.
constexpr uint8_t register_room = register_bytes == 0 ? 1 : register_bytes;

/// A bit for each output: output 0 is bit 0 of byte 0.
struct RegisterBits {
    uint8_t bytes[register_room];
};

/// The outputs of stop lamps in one byte: the interrupt's, all others are the main loop's.
constexpr uint8_t stop_outputs(uint8_t byte) {
    uint8_t bits = 0;
    for (const RegisterRun& run : bike::register_runs)
        for (uint8_t i = 0; i < run.count; ++i)
            if (bike::groups[run.group].job == core::Job::stop && (run.first_output + i) >> 3 == byte)
                bits = static_cast<uint8_t>(bits | 1u << ((run.first_output + i) & 7));
    return bits;
}
constexpr Table<stop_outputs, register_room> stop;

/// SPCR's clock bits: the quickest of 8 MHz / 2^n that the registers follow.
constexpr uint8_t shift_shift() {
    uint8_t n = 0;
    while (n < 6 && 8000000ul >> n > bike::registers.shift_hz)
        ++n;
    return n;
}

/// All calls with interrupts off or from one.
class RegisterChain {
public:
    /// Dark before the outputs are enabled, whatever the registers woke up with.
    void start() {
        if (register_bytes == 0) return;
        make_output(bike::registers.enable, true);
        make_output(bike::registers.latch, false);
        make_output(Pin::b2, false); // an input there that reads low would end the SPI's being master
        make_output(Pin::b3, false);
        make_output(Pin::b5, false);
        constexpr uint8_t n = shift_shift(); // 8 MHz / 2^n: SPI2X halves what SPR divides by, but for n = 6
        SPSR = n % 2 == 0 && n != 6 ? _BV(SPI2X) : 0;
        SPCR = static_cast<uint8_t>(_BV(SPE) | _BV(MSTR) | n / 2);
        for (uint8_t i = 0; i != register_bytes; ++i) {
            SPDR = 0;
            while ((SPSR & _BV(SPIF)) == 0) {
            }
            (void)SPDR; // takes the flag back
        }
        latch();
        SPCR = static_cast<uint8_t>(SPCR | _BV(SPIE));
        // low is on, so that a level's part of the time is what is not high
        show_level(bike::registers.enable, static_cast<uint8_t>(255 - bike::registers.level));
    }

    /// All lamps but the stop lamps.
    void show(const RegisterBits& lamps) {
        for (uint8_t i = 0; i != register_bytes; ++i)
            shown_.bytes[i] = static_cast<uint8_t>((shown_.bytes[i] & stop.at[i]) | lamps.bytes[i]);
        send();
    }

    void show_stop(bool lit) {
        for (uint8_t i = 0; i != register_bytes; ++i)
            shown_.bytes[i] =
                static_cast<uint8_t>(lit ? shown_.bytes[i] | stop.at[i] : shown_.bytes[i] & ~stop.at[i]);
        send();
    }

    /// Sends what is to be shown, from the farthest register on; if that is being sent already, once more
    /// after it.
    void send() {
        if (register_bytes == 0) return;
        again_ = sending();
        if (!again_) begin();
    }
    bool sending() const { return left_ != 0; }

    /// By the SPI's interrupt.
    void byte_sent() {
        if (left_ == 0) return; // a flag that a spark has set
        left_ = static_cast<uint8_t>(left_ - 1);
        if (left_ != 0) {
            SPDR = shown_.bytes[left_ - 1];
            return;
        }
        if (again_) // what has been sent may be half of the old and half of the new
            begin();
        else
            latch();
        again_ = false;
    }

private:
    void begin() {
        left_ = register_bytes;
        SPDR = shown_.bytes[register_room - 1];
    }
    static void latch() {
        drive(bike::registers.latch, true);
        drive(bike::registers.latch, false);
    }

    RegisterBits shown_{};
    uint8_t left_{0}; ///< bytes, with the one being sent
    bool again_{false};
};

} // namespace firmware
} // namespace winkhold
