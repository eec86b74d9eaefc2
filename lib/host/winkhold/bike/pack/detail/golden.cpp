// Golden vectors: a ride on this bike, and what its board must show at each change.
#include "winkhold/bike/pack/detail/texts.hpp"

#include "winkhold/base/vehicle/detail/vehicle_files.hpp"
#include "winkhold/core/board.hpp"
#include "winkhold/measure/waveform/detail/ride_size.hpp"
#include "winkhold/measure/waveform/detail/scenario_sections.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr std::uint32_t start_us = 0xfff0'0000; // the clock wraps after a second
constexpr std::size_t most_changes = 250;       // of 8 bytes in the chip's flash

/// CRC-16/IBM-3740: check value 0x29b1 for "123456789" (from memory); avr-libc has it as _crc_xmodem_update.
class Digest {
public:
    void add(std::uint8_t byte) {
        sum_ = static_cast<std::uint16_t>(sum_ ^ byte << 8);
        for (int bit = 0; bit < 8; ++bit)
            sum_ = static_cast<std::uint16_t>((sum_ & 0x8000) != 0 ? sum_ << 1 ^ 0x1021 : sum_ << 1);
    }
    /// A moment, the lowest byte first.
    void add(core::Micros at) {
        for (int bit = 0; bit < 32; bit += 8)
            add(static_cast<std::uint8_t>(at.count_us >> bit & 0xff));
    }
    std::uint16_t sum() const { return sum_; }

private:
    std::uint16_t sum_{0xffff};
};

/// All that a rider can ask for, in one ride on the bike's own flasher: both sides, a change of sides, a
/// single flash, hazard; the brake in between; lights on.
Trace all_requests(const Vehicle& vehicle) {
    Scenario scenario;
    for_section(vehicle, "flasher",
                [&](TomlFields& fields) { read_flasher(vehicle.path(), fields, scenario.flasher); });
    RiderModel& rider = scenario.rider;
    const auto rest = [&](double for_us) {
        rider.script.push_back({core::Indication::off, false, {}, Range{for_us}});
    };
    const auto ask = [&](core::Indication show, double flashes) {
        rider.script.push_back({show, true, Range{flashes}, {}});
    };
    rest(500e3);
    ask(core::Indication::left, 3);
    ask(core::Indication::right, 4);
    rest(2'500e3);
    ask(core::Indication::hazard, 3);
    rest(2'500e3);
    ask(core::Indication::left, 1);
    rest(2'500e3);
    rider.tail = true;
    rider.brake = {{700'000, 1'500'000, false}, {4'000'000, 300'000, false}};
    constexpr double most_edges = 100e3;
    if (size_of(scenario).edges > most_edges)
        scenario.flasher = {}; // an odd one; any will do to try the settings
    return RideMaker(scenario).make(1, 0).trace;
}

class Golden {
public:
    explicit Golden(const PackCase& pack)
        : pack_(pack), groups_(pack.plan.lamps.groups()),
          board_(pack.plan.settings, pack.plan.lamps.timing, groups_.data(),
                 static_cast<std::uint8_t>(groups_.size())) {}

    std::string text() {
        const Trace ride = all_requests(pack_.vehicle);
        std::string rows;
        std::size_t changes = 0;
        TimeUs before_us = 0;
        const auto add = [&](TimeUs t_us, core::Lines lines) {
            run_to(t_us, lines);
            rows += fmt::format("    {{{}, {}, {}, 0x{:04x}}},\n", t_us - before_us, lines.bits(),
                                static_cast<int>(board_.decoder().indication()), digest_.sum());
            before_us = t_us;
            ++changes;
        };
        core::Lines lines;
        for (const Edge& edge : ride.edges) {
            if (changes + 1 == most_changes) break;
            lines = edge.lines.with(core::Lines::supply, true);
            add(edge.t_us, lines);
        }
        add(std::max(before_us + 3'000'000, ride.end_us), lines); // long enough for every hold to end
        return fmt::format(
            "/// A ride on {}, and what its board must show: worked out by {} with the same settings.\n"
            "#pragma once\n\n#include <stdint.h>\n\nnamespace golden {{\n\n"
            "constexpr uint32_t start_us = 0x{:x};\n\n"
            "struct Change {{\n"
            "    uint32_t after_us; ///< since the change before\n"
            "    uint8_t lines;     ///< from then on, bits of core::Lines\n"
            "    uint8_t shown;     ///< by the decoder: off 0, left 1, right 2, hazard 3\n"
            "    uint16_t digest;   ///< of all that was shown so far, at changes and deadlines\n}};\n\n"
            "constexpr uint16_t count = {};\n"
            "constexpr Change changes[count] PROGMEM = {{\n{}}};\n\n}} // namespace golden\n",
            plain_remark(pack_.vehicle.name()), pack_.version, start_us, changes, rows);
    }

private:
    core::Micros at(TimeUs t_us) const {
        return core::after(core::Micros{start_us}, static_cast<std::uint32_t>(t_us));
    }

    void run_to(TimeUs t_us, core::Lines lines) {
        while (board_.wake().armed &&
               core::elapsed_us(board_.wake().at, now_) < core::elapsed_us(at(t_us), now_))
            step(board_.wake().at, lines_);
        step(at(t_us), lines);
    }

    /// When it is and every output's brightness go into the digest, in the order of bike.hpp.
    void step(core::Micros now, core::Lines lines) {
        now_ = now;
        lines_ = lines;
        board_.step(now, lines);
        digest_.add(now);
        digest_.add(static_cast<std::uint8_t>(board_.decoder().indication()));
        const auto frame = [&](int group) {
            return board_.sequence().frame(static_cast<std::uint8_t>(group));
        };
        for (const PlannedRun& run : pack_.plan.runs)
            for (int i = 0; i < run.count; ++i)
                digest_.add(frame(run.group).brightness(static_cast<std::uint16_t>(run.first_lamp + i)));
        for (const PlannedPin& lamp : pack_.plan.pins)
            digest_.add(frame(lamp.group).brightness(static_cast<std::uint16_t>(lamp.lamp)));
    }

    const PackCase& pack_;
    const std::vector<core::LampGroup> groups_;
    core::Board board_;
    core::Micros now_{start_us};
    core::Lines lines_;
    Digest digest_;
};

} // namespace

std::string golden_text(const PackCase& pack) {
    return Golden(pack).text();
}

} // namespace winkhold::bike
