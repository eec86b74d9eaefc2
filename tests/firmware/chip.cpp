#include "firmware/chip.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <stdexcept>

#include <avr_adc.h>
#include <avr_ioport.h>
#include <avr_spi.h>
#include <sim_avr.h>
#include <sim_elf.h>
#include <sim_interrupts.h>
#include <sim_io.h>

namespace winkhold::testing {
namespace {

// Of the ATmega328P, in the data space.
constexpr unsigned eecr = 0x3f, eedr = 0x40, eearl = 0x41, eearh = 0x42;
constexpr unsigned spcr = 0x4c, spsr = 0x4d, spdr = 0x4e;
constexpr unsigned admux = 0x7c;
constexpr unsigned spl = 0x5d, sph = 0x5e;
constexpr unsigned ddr_b = 0x24, registers_per_port = 3;
constexpr std::uint8_t eere = 1, eepe = 2, eempe = 4, spe = 0x40, wcol = 0x40;
constexpr unsigned ram = 0x100;
constexpr std::uint8_t paint = 0xc5; ///< of RAM at power-up: what has another value has been used
/// Erase and write of one byte: 3.4 ms (data sheet, from memory).
constexpr Cycles eeprom_write = 3'400 * cycles_per_us;
constexpr std::uint16_t jump_to_itself = 0xcfff; // rjmp .-2

char port_name(PinNumber pin) {
    return static_cast<char>('B' + pin / 8);
}

void stay_silent(avr_t*, const int, const char*, va_list) {}
void do_not_wait(avr_t*, avr_cycle_count_t) {}
avr_cycle_count_t end_of_sleep(avr_t*, avr_cycle_count_t, void*) {
    return 0;
}

avr_spi_t* spi_of(avr_t* avr) {
    for (avr_io_t* io = avr->io_port; io != nullptr; io = io->next)
        if (std::string(io->kind) == "spi") return reinterpret_cast<avr_spi_t*>(io);
    throw std::logic_error("the simulated chip has no SPI");
}

} // namespace

/// What simavr calls; `param` is the chip.
struct Chip::Hooks {
    static void spi_write(avr_t* avr, avr_io_addr_t, std::uint8_t value, void* param) {
        Chip& chip = *static_cast<Chip*>(param);
        avr->data[spdr] = value;
        if ((avr->data[spcr] & spe) == 0) return;
        avr_clear_interrupt(avr, &spi_of(avr)->spi);
        if (chip.spi_busy_) {
            avr->data[spsr] |= wcol;
            chip.misuse_ += "the SPI was written to while it was sending\n";
            return;
        }
        const bool twice = (avr->data[spsr] & 1) != 0;
        const unsigned divider = (avr->data[spcr] & 3) == 3 ? 128u : 4u << 2 * (avr->data[spcr] & 3);
        chip.spi_busy_ = true;
        const std::uint64_t life = chip.life_;
        chip.at(chip.now() + 8 * (twice ? divider / 2 : divider), [&chip, avr, value, life] {
            if (chip.life_ != life) return;
            chip.spi_busy_ = false;
            chip.spi_byte_(value);
            avr_raise_interrupt(avr, &spi_of(avr)->spi);
        });
    }
    static std::uint8_t spi_read(avr_t* avr, avr_io_addr_t, void*) {
        avr_clear_interrupt(avr, &spi_of(avr)->spi);
        return avr->data[spdr];
    }

    static void eeprom_control(avr_t* avr, avr_io_addr_t, std::uint8_t value, void* param) {
        Chip& chip = *static_cast<Chip*>(param);
        const unsigned address = (avr->data[eearl] | avr->data[eearh] << 8) & 0x3ff;
        if (chip.eeprom_busy_ && (value & (eere | eempe)) != 0)
            chip.misuse_ += "the EEPROM was asked while it was writing\n";
        if ((value & eere) != 0) avr->data[eedr] = chip.eeprom_[address];
        if ((value & eepe) != 0 && !chip.eeprom_busy_) {
            // data sheet: within four clocks
            if (chip.now() - chip.eeprom_enabled_ <= 4)
                chip.start_eeprom_write();
            else
                chip.misuse_ += "an EEPROM write was not enabled, or too long before\n";
        }
        if ((value & eempe) != 0) chip.eeprom_enabled_ = chip.now();
        avr->data[eecr] = chip.eeprom_busy_ ? eepe : 0;
    }

    static void conversion(avr_irq_t*, std::uint32_t, void* param) {
        Chip& chip = *static_cast<Chip*>(param);
        const unsigned channel = chip.avr_->data[admux] & 7u;
        chip.at(chip.now() + 192, [&chip, channel] { // 1.5 clocks of 125 kHz
            avr_raise_irq(chip.adc_inputs_ + channel, chip.volts_[channel]);
            chip.sample_(channel);
        });
    }

    static void pin(avr_irq_t*, std::uint32_t value, void* param) {
        const auto& [chip, number] = *static_cast<std::pair<Chip*, unsigned>*>(param);
        chip->pin_hooks_[number]((value & 1) != 0);
    }

    static void interrupt(avr_irq_t*, std::uint32_t value, void* param) {
        const auto& [chip, vector] = *static_cast<std::pair<Chip*, unsigned>*>(param);
        if (value != 0) {
            chip->entered_[vector] = chip->now();
            chip->avr_->cycle += 4;
        } else {
            Interrupts& all = chip->interrupts_[vector];
            const Cycles took = chip->now() - chip->entered_[vector];
            ++all.count;
            all.total += took;
            chip->in_interrupts_ += took;
            all.longest = std::max(all.longest, took);
        }
    }

    static void reset(avr_t* avr) {
        Chip& chip = *static_cast<Chip*>(avr->custom.data);
        chip.core_reset_(avr);
        chip.before_reset_ += avr->cycle;
        avr->cycle = 0;
        chip.was_reset_ = true;
    }
};

Chip::Chip(const std::string& elf, std::vector<std::uint8_t> eeprom)
    : eeprom_(eeprom.empty() ? std::vector<std::uint8_t>(1024, 0xff) : std::move(eeprom)) {
    avr_global_logger_set(stay_silent);
    elf_firmware_t firmware{};
    if (elf_read_firmware(elf.c_str(), &firmware) != 0) throw std::runtime_error("cannot read " + elf);
    avr_ = avr_make_mcu_by_name("atmega328p");
    avr_init(avr_);
    avr_->frequency = 16'000'000;
    avr_load_firmware(avr_, &firmware);
    avr_->vcc = avr_->avcc = avr_->aref = 5000;
    avr_->sleep = do_not_wait;
    avr_->custom.data = this;
    core_reset_ = avr_->reset;
    avr_->reset = Hooks::reset;

    avr_->io[AVR_DATA_TO_IO(spdr)].w = {this, Hooks::spi_write};
    avr_->io[AVR_DATA_TO_IO(spdr)].r = {this, Hooks::spi_read};
    avr_->io[AVR_DATA_TO_IO(eecr)].w = {this, Hooks::eeprom_control};
    avr_irq_register_notify(avr_io_getirq(avr_, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_OUT_TRIGGER), Hooks::conversion,
                            this);
    adc_inputs_ = avr_io_getirq(avr_, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_ADC0); // as is each, in a row
    for (unsigned vector = 1; vector < 26; ++vector) {
        avr_irq_t* const irq = avr_get_interrupt_irq(avr_, static_cast<std::uint8_t>(vector));
        if (irq == nullptr) continue;
        numbered_.push_back(std::make_unique<std::pair<Chip*, unsigned>>(this, vector));
        avr_irq_register_notify(irq + AVR_INT_IRQ_RUNNING, Hooks::interrupt, numbered_.back().get());
    }
    std::fill(avr_->data + ram, avr_->data + avr_->ramend + 1, paint);
    came_out_of_reset();
}

Chip::~Chip() {
    avr_terminate(avr_);
}

Cycles Chip::now() const {
    return before_reset_ + avr_->cycle;
}

void Chip::at(Cycles moment, std::function<void()> then) {
    events_.emplace(moment, std::move(then));
    set_alarm();
}

/// A sleeping chip must not sleep past an event.
void Chip::set_alarm() {
    if (events_.empty()) return;
    const Cycles next = events_.begin()->first;
    avr_cycle_timer_register(avr_, next > now() ? next - now() : 1, end_of_sleep, this);
}

void Chip::run_until(Cycles end) {
    at(end, [] {});
    while (now() < end || events_.begin()->first <= end) {
        while (!events_.empty() && events_.begin()->first <= now()) {
            const std::function<void()> then = std::move(events_.begin()->second);
            events_.erase(events_.begin());
            then();
            set_alarm();
        }
        if (now() >= end) break;
        const int state = avr_run(avr_);
        if (state == cpu_Crashed || state == cpu_Done)
            throw std::runtime_error(fmt::format("the chip stopped at {} us", now() / cycles_per_us));
        if (was_reset_) came_out_of_reset();
        note_sleep();
        if (!measured_.empty()) note_calls();
    }
}

void Chip::note_sleep() {
    const bool sleeps = avr_->state == cpu_Sleeping;
    if (sleeps == slept_) return;
    slept_ = sleeps;
    if (sleeps)
        longest_awake_ = std::max(longest_awake_, now() - awake_since_);
    else
        awake_since_ = now();
}

void Chip::note_calls() {
    const unsigned stack = avr_->data[spl] | avr_->data[sph] << 8;
    for (auto& [address, call] : measured_) {
        if (!call.running && avr_->pc == address) {
            call = {true, stack, now(), in_interrupts_, call.longest};
        } else if (call.running && stack > call.stack + 1 &&
                   stack < call.stack + 4) { // its return address is gone
            call.running = false;
            call.longest = std::max(call.longest, now() - call.since - (in_interrupts_ - call.interrupts));
        }
    }
}

void Chip::came_out_of_reset() {
    was_reset_ = false;
    ++resets_;
    ++life_;
    spi_busy_ = false;
    if (hangs_) {
        std::copy_n(reinterpret_cast<const std::uint8_t*>(&hung_instruction_), 2, avr_->flash + hung_);
        hangs_ = false;
    }
    avr_->data[eecr] = eeprom_busy_ ? eepe : 0; // a write goes on through a reset
    for (const auto& [pin, high] : driven_)
        drive(pin, high);
    reset_();
    set_alarm();
}

void Chip::drive(PinNumber pin, bool high) {
    driven_[pin] = high;
    avr_irq_t* const irq =
        avr_io_getirq(avr_, AVR_IOCTL_IOPORT_GETIRQ(port_name(pin)), static_cast<int>(pin % 8));
    avr_raise_irq(irq, high ? 0 : 1); // only a change is taken in
    avr_raise_irq(irq, high ? 1 : 0);
}

void Chip::drive_adc(unsigned channel, unsigned millivolts) {
    volts_[channel] = millivolts;
}

bool Chip::drives(PinNumber pin) const {
    return (avr_->data[ddr_b + registers_per_port * (pin / 8)] >> pin % 8 & 1) != 0;
}

void Chip::on_pin(PinNumber pin, std::function<void(bool)> then) {
    pin_hooks_[pin] = std::move(then);
    numbered_.push_back(std::make_unique<std::pair<Chip*, unsigned>>(this, pin));
    avr_irq_register_notify(
        avr_io_getirq(avr_, AVR_IOCTL_IOPORT_GETIRQ(port_name(pin)), static_cast<int>(pin % 8)), Hooks::pin,
        numbered_.back().get());
}

void Chip::start_eeprom_write() {
    eeprom_busy_ = true;
    ++eeprom_writes_;
    eeprom_address_ = (avr_->data[eearl] | avr_->data[eearh] << 8) & 0x3ff;
    avr_->cycle += 2; // the CPU is halted
    const std::uint8_t byte = avr_->data[eedr];
    at(now() + eeprom_write, [this, byte] {
        eeprom_[eeprom_address_] = byte;
        eeprom_busy_ = false;
        avr_->data[eecr] = 0;
    });
}

std::vector<std::uint8_t> Chip::eeprom_after_cut(std::uint8_t torn) const {
    std::vector<std::uint8_t> bytes = eeprom_;
    if (eeprom_busy_) bytes[eeprom_address_] = torn;
    return bytes;
}

void Chip::hang() {
    hung_ = avr_->pc;
    std::copy_n(avr_->flash + hung_, 2, reinterpret_cast<std::uint8_t*>(&hung_instruction_));
    std::copy_n(reinterpret_cast<const std::uint8_t*>(&jump_to_itself), 2, avr_->flash + hung_);
    hangs_ = true;
}

Chip::Interrupts Chip::interrupts(unsigned vector) const {
    const auto found = interrupts_.find(vector);
    return found == interrupts_.end() ? Interrupts{} : found->second;
}

/// From the top of the RAM down, until nothing has been written to for 32 bytes.
unsigned Chip::deepest_stack() const {
    unsigned deepest = 0;
    for (unsigned depth = 0; depth < avr_->ramend - ram && depth < deepest + 32; ++depth)
        if (avr_->data[avr_->ramend - depth] != paint) deepest = depth + 1;
    return deepest;
}

unsigned Chip::byte_at(unsigned address) const {
    return avr_->data[address];
}
void Chip::poke(unsigned address, std::uint8_t value) {
    avr_->data[address] = value;
}
bool Chip::interrupts_on() const {
    return avr_->sreg[S_I] != 0;
}
unsigned Chip::program_counter() const {
    return avr_->pc;
}

} // namespace winkhold::testing
