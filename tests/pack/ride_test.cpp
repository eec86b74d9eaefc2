// Boards of packs in simavr's chip: every output against what the host plays on the same ride. Which output
// lights which lamp is said here by hand, so that a pack's own idea of it is held to ours.
//
// The simulator's limits are those that firmware/chip.hpp names. A board looks at its taps every 640 us (768
// us with a sixth), and PWM takes a period: so lamps are compared where the host's last change is 3 ms past.
#include "firmware/chip.hpp"
#include "pack/bikes.hpp"
#include "program/run.hpp"

#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/bike/lamps/lamp_frames.hpp"
#include "winkhold/bike/lamps/lamp_plan.hpp"

#include <bitset>
#include <cmath>
#include <gtest/gtest.h>
#include <optional>

namespace winkhold::testing {
namespace {

constexpr PinNumber port_b = 0, port_c = 8, port_d = 16;

struct TapAt {
    unsigned line; ///< bit of core::Lines
    PinNumber pin; ///< or channel of the converter
    bool lit_high{true};
    unsigned lit_mv{0}; ///< 0: a digital pin
};

struct LampAt {
    bool on_register;
    unsigned at; ///< output of the chain, from 0; or pin
    std::size_t group;
    std::uint16_t lamp;
};

struct Wired {
    std::string name;
    const std::string* vehicle;
    std::vector<TapAt> taps;
    std::optional<std::pair<PinNumber, PinNumber>> latch_and_enable;
    std::vector<LampAt> lamps;
};

void PrintTo(const Wired& wired, std::ostream* out) {
    *out << wired.name;
}

using core::Lines;

const Wired boards[] = {
    {"bare_bike",
     &bare_bike,
     {{Lines::left, port_d + 2, false},
      {Lines::right, port_d + 4, false},
      {Lines::brake, port_c + 2}, // the pedal's
      {Lines::tail, port_c + 1},
      {Lines::supply, port_b + 0}},
     {},
     {{false, port_b + 1, 0, 0},
      {false, port_b + 2, 0, 1},
      {false, port_d + 3, 0, 2},
      {false, port_d + 5, 1, 0},
      {false, port_c + 3, 2, 0},
      {false, port_c + 4, 2, 1},
      {false, port_d + 6, 3, 0}}},
    {"register_bike",
     &register_bike,
     {{Lines::left, 7, true, 3176}, // 12.8 V behind 100 and 33 kilohms
      {Lines::right, 6, true, 3176},
      {Lines::brake, 5, true, 3176},
      {Lines::tail, 4, true, 3176}},
     std::pair(port_c + 0, port_b + 1),
     {{true, 2, 0, 0},
      {true, 3, 0, 4},
      {true, 4, 0, 8},
      {true, 16, 1, 0},
      {true, 17, 1, 3},
      {true, 18, 1, 6},
      {true, 19, 1, 9},
      {true, 7, 2, 0},
      {true, 15, 2, 0}}},
    {"schmitt_bike",
     &schmitt_bike,
     {{Lines::left, port_c + 0, false},
      {Lines::right, port_c + 1, false},
      {Lines::brake, port_c + 2, false},
      {Lines::tail, port_c + 3, false}},
     std::pair(port_b + 2, port_d + 4),
     {{true, 240, 0, 0},
      {true, 241, 0, 1},
      {true, 247, 0, 7},
      {true, 8, 1, 0},
      {true, 15, 1, 7},
      {true, 0, 1, 8},
      {true, 7, 1, 15},
      {false, port_d + 3, 2, 0},
      {false, port_d + 7, 3, 0}}},
};

/// A board on the bench: its taps driven, its outputs measured.
class Measured {
public:
    Measured(const Wired& wired, const std::string& elf) : wired_(wired), chip_(elf) {
        set(0);
        chip_.on_spi_byte([this](std::uint8_t byte) { chain_ = chain_ << 8 | std::bitset<256>(byte); });
        for (const LampAt& lamp : wired.lamps)
            if (!lamp.on_register) watch(lamp.at);
        if (!wired.latch_and_enable) return;
        watch(wired.latch_and_enable->second);
        chip_.on_pin(wired.latch_and_enable->first, [this](bool high) {
            if (high && !latch_) latched_ = chain_;
            latch_ = high;
        });
    }

    Chip& chip() { return chip_; }
    void set(unsigned lines) {
        for (const TapAt& tap : wired_.taps) {
            const bool lit = (lines & tap.line) != 0;
            if (tap.lit_mv != 0)
                chip_.drive_adc(tap.pin, lit ? tap.lit_mv : 0);
            else
                chip_.drive(tap.pin, lit == tap.lit_high);
        }
    }
    /// Until `end`; then level() is that of the last period of PWM, or of all the time if nothing moved.
    void run_until(Cycles end) {
        for (auto& [pin, watched] : watched_)
            watched.moved = false;
        chip_.run_until(end);
    }
    int level(const LampAt& lamp) const {
        if (!lamp.on_register) return level_of(lamp.at);
        return latched_[lamp.at] ? 255 - level_of(wired_.latch_and_enable->second) : 0;
    }

private:
    struct Watched {
        bool high{false};
        bool moved{false};
        Cycles rose{0};
        Cycles fell{0};
        int last{0};  ///< of the last whole period
        int level{0}; ///< of the last two that were alike: simavr takes a new compare value in mid-period

        void edge(Cycles now, bool to_high) {
            if (to_high == high) return;
            high = to_high;
            moved = true;
            if (!to_high) {
                fell = now;
                return;
            }
            const int before = last;
            last = static_cast<int>(
                std::lround(256.0 * static_cast<double>(fell - rose) / static_cast<double>(now - rose)));
            if (std::abs(last - before) <= 1) level = last;
            rose = now;
        }
    };

    void watch(PinNumber pin) {
        watched_[pin];
        chip_.on_pin(pin,
                     [this, pin](bool high) { watched_[pin].edge(chip_.now(), high && chip_.drives(pin)); });
    }
    int level_of(PinNumber pin) const {
        const Watched& watched = watched_.at(pin);
        return watched.moved ? watched.level : watched.high ? 255 : 0;
    }

    const Wired& wired_;
    Chip chip_;
    std::map<PinNumber, Watched> watched_;
    std::bitset<256> chain_;
    std::bitset<256> latched_;
    bool latch_{false};
};

/// Turns, a change of sides, a single flash, hazard; the brake in between, tail on from the first second.
host::Trace ride() {
    host::Trace trace;
    unsigned others = Lines::supply;
    const auto add = [&](host::TimeUs t_us, unsigned turn) {
        trace.edges.push_back({t_us, Lines(static_cast<std::uint8_t>(turn | others))});
    };
    add(40'000, 0);
    host::TimeUs t_us = 300'077;
    const auto flash = [&](unsigned side, int flashes) {
        for (int i = 0; i < flashes; ++i, t_us += 353'311) {
            add(t_us, side);
            add(t_us += 352'905, 0);
        }
    };
    flash(1, 2);
    others |= Lines::tail;
    add(t_us += 1'111, 0);
    flash(1, 1);
    flash(2, 3);
    others |= Lines::brake;
    add(t_us += 111'222, 0);
    flash(2, 1);
    t_us += 900'000;
    flash(1, 1);
    others &= ~static_cast<unsigned>(Lines::brake);
    add(t_us += 1'222'000, 0);
    flash(3, 3);
    trace.end_us = t_us + 1'500'000;
    return trace;
}

/// What the host shows at a moment, and until when.
class Expected {
public:
    explicit Expected(const host::LampFrames& frames) : frames_(frames.frames) {}

    /// None if anything changes within.
    const host::LampFrame* all_of(host::TimeUs from_us, host::TimeUs until_us) {
        while (at_ + 1 < frames_.size() && frames_[at_ + 1].t_us <= from_us)
            ++at_;
        const bool changes = at_ + 1 < frames_.size() && frames_[at_ + 1].t_us <= until_us;
        return changes || frames_[at_].t_us > from_us ? nullptr : &frames_[at_];
    }

private:
    const std::vector<host::LampFrame>& frames_;
    std::size_t at_{0};
};

/// simavr's edges come up to 4 cycles late, half of what a level is.
bool alike(int expected, int level) {
    const bool dimmed = expected != 0 && expected != 255;
    return level == expected || (dimmed && level != 0 && level != 255 && std::abs(level - expected) <= 1);
}

class PackedRide : public ::testing::TestWithParam<Wired> {};

TEST_P(PackedRide, LightsEveryOutputAsTheHostPlaysIt) {
    const Wired& wired = GetParam();
    const Scratch scratch;
    const std::string file = scratch.write("bike.toml", *wired.vehicle);
    ASSERT_EQ(scratch.run("pack " + file + " " + scratch.path("board")).exit_code, 0);
    ASSERT_EQ(std::system(("make -s -C '" + scratch.path("board") + "' > /dev/null").c_str()), 0);
    const host::Vehicle vehicle = host::Vehicle::read(file);
    const host::Trace trace = ride();
    const host::LampFrames frames = host::lamp_frames(
        trace, host::decoder_settings(vehicle, core::Settings{}), host::lamp_plan_of(vehicle));
    Measured board(wired, scratch.path("board/board.elf"));
    for (const host::Edge& edge : trace.edges)
        board.chip().at(static_cast<Cycles>(edge.t_us) * cycles_per_us,
                        [&] { board.set(edge.lines.bits()); });

    constexpr host::TimeUs late_us = 3'000, window_us = 4 * 128;
    Expected expected(frames);
    std::map<std::pair<unsigned, unsigned>, std::size_t> compared; // lamp, brightness
    for (host::TimeUs t_us = 50'000; t_us < trace.end_us; t_us += window_us) {
        board.run_until(static_cast<Cycles>(t_us + window_us) * cycles_per_us);
        const host::LampFrame* const frame = expected.all_of(t_us - late_us, t_us + window_us);
        if (frame == nullptr) continue;
        for (unsigned i = 0; i < wired.lamps.size(); ++i) {
            const LampAt& lamp = wired.lamps[i];
            const int wanted = frame->groups[lamp.group].brightness(lamp.lamp);
            ASSERT_TRUE(alike(wanted, board.level(lamp)))
                << (lamp.on_register ? "output " : "pin ") << lamp.at << " at " << t_us << " us: " << wanted
                << " wanted, " << board.level(lamp) << " shown";
            ++compared[{i, static_cast<unsigned>(wanted)}];
        }
    }
    EXPECT_EQ(board.chip().resets(), 0);
    EXPECT_EQ(board.chip().misuse(), "");
    for (unsigned i = 0; i < wired.lamps.size(); ++i) {
        std::size_t levels = 0, times = 0;
        for (const auto& [what, count] : compared)
            if (what.first == i) ++levels, times += count;
        EXPECT_GT(times, 1'000u) << "lamp " << i;
        EXPECT_GE(levels, 2u) << "lamp " << i << " was never lit, or never dark";
    }
}

INSTANTIATE_TEST_SUITE_P(Of, PackedRide, ::testing::ValuesIn(boards),
                         [](const auto& tried) { return tried.param.name; });

} // namespace
} // namespace winkhold::testing
