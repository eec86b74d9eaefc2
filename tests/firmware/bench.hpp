/// The board on the bench: a ride on its taps, and what its lamps really showed.
#pragma once

#include "firmware/chip.hpp"

#include <array>

namespace winkhold::testing {

/// The levels of left 1, right 2, brake 4, tail 8, supply 16 from a moment on.
struct TapChange {
    long long t_us;
    unsigned lines;
};
using Ride = std::vector<TapChange>;

/// Brightness of one output from a moment on.
struct Shown {
    double t_us;
    int level;
};

/// Where the demo bike's lamps and taps are (apps/firmware/board/bike.hpp).
namespace demo {
constexpr PinNumber latch = 2, enable = 16 + 3, stop = 1, marker_left = 16 + 5, marker_right = 16 + 6;
constexpr unsigned outputs = 32;
constexpr std::array<PinNumber, 3> lamp_pins{stop, marker_left, marker_right};
constexpr PinNumber taps = 8; // C0, and on
} // namespace demo

class Bench {
public:
    /// Power-up with all lines dark. Taps are at port C's pins 0 to 4, as the demo bike's: voltages behind
    /// dividers for an ADC, levels for digital inputs.
    explicit Bench(const std::string& elf, std::vector<std::uint8_t> eeprom = {});

    Chip& chip() { return chip_; }
    double now_us() const { return static_cast<double>(chip_.now()) / cycles_per_us; }
    /// Sets the taps as they are in the ride.
    void play(const Ride& ride);
    void set(unsigned lines);
    /// These taps read low while their line is lit.
    void turn_round(unsigned taps) { turned_round_ = taps; }
    void run_until_us(double t_us) { chip_.run_until(static_cast<Cycles>(t_us * cycles_per_us)); }

    /// The ride as the board has seen it: levels from the moments at which it looked. It begins anew with a
    /// reset.
    const Ride& seen() const { return seen_; }
    /// All that register output `output` showed until now.
    const std::vector<Shown>& output(unsigned output) const { return outputs_[output]; }
    /// All that a pin's lamp showed until now.
    std::vector<Shown> pin(PinNumber pin);
    int level_of(PinNumber pin);
    /// When it began to run: power-up, or the last reset.
    double running_since_us() const { return running_since_us_; }

private:
    /// One pin with PWM: levels from how long it is high in a period.
    struct Meter {
        std::vector<Shown> shown{{0, 0}};
        bool high{false};
        Cycles rose{0};
        Cycles fell{0};
        int pending{-1};
        Cycles pending_since{0};

        void edge(Cycles now, bool rises);
        void look(Cycles now);
        void show(Cycles since, int level);
    };

    void show_outputs();

    Chip chip_;
    double running_since_us_{0};
    unsigned turned_round_{0};
    unsigned lines_{0};
    Ride seen_{{0, 0}};
    std::uint64_t chain_{0};
    std::uint64_t latched_{0};
    bool latch_{false};
    bool enabled_{false};
    std::array<std::vector<Shown>, demo::outputs> outputs_;
    std::map<PinNumber, Meter> meters_;
};

} // namespace winkhold::testing
