/// An ATmega328P: simavr's, with what it gets wrong and the board's proofs rest on mended here.
///
///     SPI         a byte takes 8 of the chosen clocks (simavr: 100 us at any); a write too early is counted
///     EEPROM      a byte takes 3.4 ms, EEPE tells so, and a power cut leaves any value in it (simavr: no
///     time) ADC         the voltage 1.5 ADC clocks after the start counts (simavr: as the result is read)
///     interrupts  entry takes 4 cycles (simavr: none)
///     reset       pins keep their levels (simavr: inputs read 0 until they change), time goes on
///
/// Not mended, and so not proved by these tests but argued from the data sheet: idle is the only sleep,
/// power-down goes on like it; no brown-out; the watchdog's oscillator is exact; compare values take effect
/// at once.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

struct avr_t;
struct avr_irq_t;

namespace winkhold::testing {

/// A port's bit, as firmware::Pin has it: port (B 0, C 1, D 2) * 8 + bit.
using PinNumber = unsigned;

/// Cycles of 16 MHz since power-up, resets included.
using Cycles = std::uint64_t;
constexpr Cycles cycles_per_us = 16;

class Chip {
public:
    /// Powered up at 5 V with this firmware; without `eeprom`, erased.
    explicit Chip(const std::string& elf, std::vector<std::uint8_t> eeprom = {});
    ~Chip();
    Chip(const Chip&) = delete;
    Chip& operator=(const Chip&) = delete;

    Cycles now() const;
    void run_until(Cycles end);
    /// Once, at this moment or as the instruction then running ends.
    void at(Cycles moment, std::function<void()> then);

    /// From outside, from now on.
    void drive(PinNumber pin, bool high);
    void drive_adc(unsigned channel, unsigned millivolts);

    /// The chip drives the pin, high or low; false while the pin is an input.
    bool drives(PinNumber pin) const;
    void on_pin(PinNumber pin, std::function<void(bool high)> then);
    void on_spi_byte(std::function<void(std::uint8_t)> then) { spi_byte_ = std::move(then); }
    /// A conversion has taken this channel's voltage.
    void on_sample(std::function<void(unsigned channel)> then) { sample_ = std::move(then); }
    void on_reset(std::function<void()> then) { reset_ = std::move(then); }

    /// Bytes as a reader would find them after a power cut now; `torn` replaces the one being written.
    std::vector<std::uint8_t> eeprom_after_cut(std::uint8_t torn) const;
    bool eeprom_busy() const { return eeprom_busy_; }
    int eeprom_writes() const { return eeprom_writes_; }

    /// The instruction that is next becomes an endless loop, until the chip is reset.
    void hang();
    int resets() const { return resets_; }

    /// What the firmware did that a chip would not forgive; empty: nothing.
    const std::string& misuse() const { return misuse_; }
    /// The most bytes that were on the stack.
    unsigned deepest_stack() const;
    /// From an interrupt's entry to its return.
    struct Interrupts {
        Cycles count{0};
        Cycles total{0};
        Cycles longest{0};
    };
    /// Measures the function at this address from now on: from its first instruction to its return, without
    /// the interrupts in between.
    void measure(unsigned address) { measured_[address]; }
    Cycles longest_call(unsigned address) const { return measured_.at(address).longest; }
    /// From one sleep to the next, interrupts included: the longest pass of the main loop.
    Cycles longest_awake() const { return longest_awake_; }

    /// By the number of its vector, as data sheets and avr-libc count from 0.
    Interrupts interrupts(unsigned vector) const;
    unsigned byte_at(unsigned address) const;
    /// As a spark would upset a register: nothing but its bits change.
    void poke(unsigned address, std::uint8_t value);
    bool interrupts_on() const;
    unsigned program_counter() const;

private:
    struct Hooks;

    /// One function under measure().
    struct Measured {
        bool running{false};
        unsigned stack{0};
        Cycles since{0};
        Cycles interrupts{0};
        Cycles longest{0};
    };

    void came_out_of_reset();
    void note_calls();
    void note_sleep();
    void set_alarm();
    void start_eeprom_write();

    avr_t* avr_{nullptr};
    avr_irq_t* adc_inputs_{nullptr};
    Cycles before_reset_{0};
    std::multimap<Cycles, std::function<void()>> events_;
    std::map<PinNumber, bool> driven_;
    std::map<unsigned, unsigned> volts_;
    std::map<PinNumber, std::function<void(bool)>> pin_hooks_;
    std::map<unsigned, Cycles> entered_;
    std::map<unsigned, Interrupts> interrupts_;
    std::map<unsigned, Measured> measured_;
    Cycles in_interrupts_{0};
    Cycles awake_since_{0};
    Cycles longest_awake_{0};
    bool slept_{false};
    std::function<void(std::uint8_t)> spi_byte_{[](std::uint8_t) {}};
    std::function<void(unsigned)> sample_{[](unsigned) {}};
    std::function<void()> reset_{[] {}};
    std::function<void(avr_t*)> core_reset_;
    std::vector<std::uint8_t> eeprom_;
    std::vector<std::unique_ptr<std::pair<Chip*, unsigned>>> numbered_;
    bool spi_busy_{false};
    bool eeprom_busy_{false};
    Cycles eeprom_enabled_{0};
    int eeprom_writes_{0};
    unsigned eeprom_address_{0};
    std::uint64_t life_{0}; ///< counts resets for events that a reset takes back
    unsigned hung_{0};
    std::uint16_t hung_instruction_{0};
    bool hangs_{false};
    bool was_reset_{false};
    int resets_{-1}; ///< the first is the power-up's
    std::string misuse_;
};

} // namespace winkhold::testing
