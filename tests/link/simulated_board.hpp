/// A board on the bench: the core, its end of the line, and a clock that the test moves.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/link/board_end.hpp"

#include <memory>
#include <string>
#include <utility>

namespace winkhold::testing {

class SimulatedBoard {
public:
    static constexpr core::LampGroup groups[] = {
        {core::Job::turn, core::Indication::left, 6, core::outward(30'000), 255, 0},
        {core::Job::turn, core::Indication::right, 6, core::outward(30'000), 255, 0},
        {core::Job::stop, core::Indication::hazard, 18, core::together(), 255, 40}};
    static constexpr std::uint8_t group_count = 3;
    static constexpr std::uint32_t vehicle_hash = 0x1a2b3c4d;

    explicit SimulatedBoard(std::uint32_t clock_us = 0, const core::Settings* stored = nullptr,
                            link::Start start = link::Start::power, std::uint32_t hash = vehicle_hash)
        : clock_us_(clock_us), end_({hash, 1, start}, link::Tuning(core::Settings{}, stored)),
          board_(end_.tuning().settings(), core::SequenceSettings{}, groups, group_count) {}

    /// Steps each millisecond until so much later, the taps at these levels.
    void run(host::TimeUs for_us, std::uint8_t taps) {
        for (host::TimeUs passed_us = 0; passed_us < for_us; passed_us += 1'000) {
            const core::Micros now{clock_us_};
            const core::Lines raw(taps);
            end_.sampled(now, raw);
            board_.step(now, raw);
            if (end_.stepped(now, board_, group_count)) board_.retune(end_.tuning().settings());
            send(sent_per_ms_);
            clock_us_ += 1'000;
        }
    }
    /// So many flashes of a side.
    void flash(std::uint8_t tap, int times, host::TimeUs on_us = 350'000, host::TimeUs dark_us = 350'000) {
        for (int i = 0; i < times; ++i) {
            run(on_us, tap);
            run(dark_us, 0);
        }
    }
    /// What comes from the computer.
    void hear(std::string_view bytes) {
        for (const char c : bytes)
            end_.add(core::Micros{clock_us_}, c);
    }
    /// What has been sent since.
    std::string said() {
        send(10'000);
        return std::exchange(said_, {});
    }
    /// A port of so many bytes a millisecond; 25 at 250,000 baud.
    void port(int bytes_per_ms) { sent_per_ms_ = bytes_per_ms; }

    link::BoardEnd& end() { return end_; }
    const core::Board& board() const { return board_; }
    std::uint32_t clock_us() const { return clock_us_; }

private:
    void send(int bytes) {
        for (; bytes > 0 && !end_.queue().empty(); --bytes)
            said_ += end_.queue().take();
    }

    std::uint32_t clock_us_;
    link::BoardEnd end_;
    core::Board board_;
    std::string said_;
    int sent_per_ms_{25};
};

/// A line down, as the computer writes it.
inline std::string down_line(std::uint16_t number, char kind,
                             std::initializer_list<std::uint32_t> fields = {}) {
    link::LineWriter line;
    line.begin(number, kind);
    for (const std::uint32_t field : fields)
        line.number(field);
    line.finish();
    return {line.text(), line.size()};
}

} // namespace winkhold::testing
