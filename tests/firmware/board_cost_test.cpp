// What the board's firmware costs of an ATmega328P at 16 MHz, beside a plain fixed hold. The ceilings aim at
// what is there, so that growth is noticed; what must not be passed at all is 16 KiB of flash and 1,000 bytes
// of RAM.
//
// simavr's cycles of instructions are the data sheet's; Chip adds the 4 of an interrupt's entry.
#include "firmware/firmware_build.hpp"
#include "firmware/lamp_match.hpp"

#include <random>

namespace winkhold::testing {
namespace {

constexpr unsigned left = 1, right = 2, brake = 4, tail = 8, supply = 16;
constexpr unsigned tick_vector = 16, spi_vector = 17;

struct Size {
    int flash;
    int ram;
};
Size size_of(const std::string& elf) {
    int text = 0, data = 0, bss = 0;
    std::sscanf(printed_by("avr-size '" + elf + "' | tail -1").c_str(), "%d %d %d", &text, &data, &bss);
    return {text + data, data + bss};
}

constexpr double noise_us = 2'000'000;

/// All that there is to compute: a hazard faster than its fill, so that steps are adapted, with skew; brake
/// and tail at odd moments; then both turn lines change each half to one and a half milliseconds.
Ride busy(long long until_us) {
    std::mt19937 random(5);
    const auto draw = [&](int from, int to) {
        return std::uniform_int_distribution<long long>(from, to)(random);
    };
    Ride ride{{20'000, supply}};
    unsigned lines = supply;
    const auto flip = [&](long long t_us, unsigned bits) {
        lines ^= bits;
        ride.push_back({t_us, lines});
    };
    long long t_us = 100'000;
    for (unsigned flash = 0; t_us < noise_us - 10'000; t_us += 220'000, ++flash) {
        flip(t_us, left);
        flip(t_us + 700, right);
        if (flash % 2 == 0) flip(t_us + draw(1'000, 30'000), brake);
        if (flash % 3 == 0) flip(t_us + draw(31'000, 60'000), tail);
        flip(t_us + 130'000, left | right);
    }
    for (; t_us < until_us; t_us += draw(500, 1'500))
        flip(t_us, draw(0, 3) == 0 ? left | right : draw(0, 1) == 0 ? left : right);
    return ride;
}

/// Presses of a tap, and how much later than a settle of 5 ms its lamp came.
Lag latency(unsigned tap, const std::function<std::vector<Shown>(Bench&)>& lamp) {
    std::mt19937 random(7);
    Bench bench(board_elf());
    std::vector<double> presses;
    Ride ride{{20'000, supply}};
    for (double t_us = 1'000'000; t_us < 25'000'000; t_us += 1'500'000) { // past hold and silence
        presses.push_back(t_us + std::uniform_real_distribution<>(0, 10'000)(random));
        ride.push_back({static_cast<long long>(presses.back()), supply | tap});
        ride.push_back({static_cast<long long>(presses.back()) + 300'000, supply});
    }
    bench.play(ride);
    bench.run_until_us(26e6);
    std::vector<double> lit;
    for (const Shown& shown : lamp(bench))
        if (shown.level == 255) lit.push_back(shown.t_us);
    EXPECT_EQ(lit.size(), presses.size());
    Lag lag{1e9, -1e9};
    for (std::size_t i = 0; i < lit.size(); ++i)
        lag.add(lit[i] - std::floor(presses[i]) - 5'000);
    return lag;
}

TEST(BoardCost, Table) {
    Bench bench(board_elf());
    struct Part {
        const char* name;
        const char* function;
        Cycles most;
    };
    const Part parts[] = {{"decoder, one moment", "Decoder::at", 6'000},
                          {"decoder, taps and lamps, one moment", "Board::at", 12'000},
                          {"frames to registers and pins", "show_lamps", 6'000}};
    for (const Part& part : parts)
        bench.chip().measure(address_in_board(part.function));
    const unsigned behind = address_in_board("changes") + 8 * 5 + 2; // ring, head, tail, behind
    bench.play(busy(4'000'000));
    bench.run_until_us(10'000); // variables are set up
    while (bench.now_us() < 4e6) {
        bench.run_until_us(bench.now_us() + 100);
        ASSERT_EQ(bench.chip().byte_at(behind), 0u) << "a change found no room at " << bench.now_us();
    }
    Lag lag; // noise alone may settle a sample sooner or later than for the host
    expect_as_played(bench, frames_of(trace_of(bench.seen(), 4e6)), {awake_us, noise_us}, "the busy ride",
                     lag);

    const TempFolder folder;
    const std::string plain_elf = folder.path("plain.elf");
    printed_by(
        fmt::format("avr-g++ -std=c++14 -mmcu=atmega328p -Os '{}/tests/firmware/plain_hold.cpp' -o '{}'",
                    WINKHOLD_SOURCE, plain_elf));
    Chip plain(plain_elf);
    plain.run_until(100'000 * cycles_per_us);

    const Size board = size_of(board_elf()), plain_size = size_of(plain_elf);
    const unsigned stack = bench.chip().deepest_stack();
    const Chip::Interrupts tick = bench.chip().interrupts(tick_vector);
    fmt::print("ATmega328P at 16 MHz                   Winkhold  plain fixed hold\n");
    std::ifstream file(WINKHOLD_SOURCE "/apps/firmware/board/README.md");
    const std::string readme{std::istreambuf_iterator<char>(file), {}};
    const auto row = [&](const char* what, auto ours, auto plains, const char* unit) {
        const std::string line = fmt::format("{:<37} {:>9} {:>9} {}\n", what, ours, plains, unit);
        fmt::print("{}", line);
        EXPECT_TRUE(readme.find(what) == std::string::npos || readme.find(line) != std::string::npos)
            << "README.md has other figures of: " << what;
    };
    row("flash", board.flash, plain_size.flash, "bytes");
    row("RAM, without stack", board.ram, plain_size.ram, "bytes");
    row("deepest stack", stack, plain.deepest_stack(), "bytes");
    for (const Part& part : parts) {
        const Cycles cycles = bench.chip().longest_call(address_in_board(part.function));
        row(part.name, cycles, "", "cycles at most");
        EXPECT_GT(cycles, 0u) << part.name;
        EXPECT_LE(cycles, part.most) << part.name;
    }
    row("interrupt of a tick", tick.longest, plain.interrupts(14).longest, "cycles at most");
    row("  on average, of 2,048", tick.total / tick.count,
        plain.interrupts(14).total / plain.interrupts(14).count, "cycles");
    row("interrupt of a register's byte", bench.chip().interrupts(spi_vector).longest, "", "cycles at most");
    row("whole pass of the main loop", bench.chip().longest_awake(), plain.longest_awake(), "cycles at most");
    const Lag stop = latency(brake, [](Bench& b) { return b.pin(demo::stop); });
    const Lag turn = latency(left, [](Bench& b) { return b.output(0); });
    row("brake settled to stop lamp", std::lround(stop.most), "", "us at most");
    row("turn line settled to first lamp", std::lround(turn.most), "", "us at most");
    row("busy ride, lamps behind the host's", std::lround(lag.most), "", "us at most");

    EXPECT_LE(board.flash, 15'600);
    EXPECT_LE(board.ram + static_cast<int>(stack), 1'000);
    EXPECT_LE(tick.longest, 1'536u) << "a quarter of a tick is left for others";
    EXPECT_LE(stop.most, 1'000 + 1'000) << "a sample and a millisecond";
    EXPECT_LE(turn.most, 1'000 + 128) << "a sample and a period of PWM";
}

} // namespace
} // namespace winkhold::testing
