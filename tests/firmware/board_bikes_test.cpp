// Other bikes than the demo's: what bike.hpp can say, said otherwise; and what only shows after a long time.
#include "firmware/firmware_build.hpp"
#include "firmware/lamp_match.hpp"

namespace winkhold::testing {
namespace {

constexpr unsigned left = 1, right = 2, brake = 4, tail = 8, supply = 16;

/// Two flashes left, a hazard of one, the brake and the tail light in between.
const Ride ride{{40'000, supply},
                {100'000, supply | left},
                {200'000, supply | left | brake},
                {453'000, supply | brake},
                {806'000, supply | left | tail},
                {1'159'000, supply},
                {2'300'000, supply | left | right},
                {2'600'000, supply | tail},
                {3'700'000, supply | brake}};
constexpr double end_us = 4e6;

host::LampFrames frames_with(const std::function<void(host::LampPlan&)>& change) {
    host::LampPlan plan = host::lamp_plan_of(host::Vehicle::demo());
    change(plan);
    Ride from_start = ride;
    from_start.insert(from_start.begin(), {0, 0});
    return host::lamp_frames(trace_of(from_start, end_us), core::Settings{}, plan);
}

// Schmitt triggers in front of the pins, the left one turning its level round; the stop lamp on a register's
// output.
TEST(BoardBikes, MayHaveDigitalTapsAndAStopLampOnARegister) {
    const TempFolder folder;
    std::string elf = other_bike_elf(
        folder,
        {{"adc_tap(Lines::left, Pin::c0, true, 289, 201)", "digital_tap(Lines::left, Pin::c0, false)"},
         {"adc_tap(Lines::right, Pin::c1, true, 289, 201)", "digital_tap(Lines::right, Pin::c1, true)"},
         {"adc_tap(Lines::brake, Pin::c2, true, 289, 201)", "digital_tap(Lines::brake, Pin::c2, true)"},
         {"together(), 255, 40}", "together(), 255, 0}"},
         {"{0, 0, 0, 6},", "{0, 0, 0, 6}, {4, 0, 6, 1},"},
         {"    {4, 0, Pin::b1}, // D9\n", ""}});
    Bench bench(elf);
    bench.turn_round(left);
    bench.set(0);
    bench.play(ride);
    bench.run_until_us(end_us);
    EXPECT_EQ(bench.chip().misuse(), "");
    const host::LampFrames frames = frames_with([](host::LampPlan& plan) { plan.lamps[4].plays.dimmed = 0; });
    const Window window{awake_us, end_us};
    Lag lag;
    for (unsigned register_number = 0; register_number < 4; ++register_number)
        for (unsigned lamp = 0; lamp < 6; ++lamp)
            expect_same(within(played(frames, register_number, static_cast<std::uint16_t>(lamp)), window),
                        within(bench.output(8 * register_number + lamp), window),
                        fmt::format("SR{}.{}", register_number + 1, lamp + 1), lag);
    expect_same(within(played(frames, 4, 0), window), within(bench.output(6), window), "stop on SR1.7", lag);
    EXPECT_LE(lag.most, 1'350) << "two steps, where both sides light at once";
}

// Half the brightness is half of the time that the enable is low, at the PWM's 7.8 kHz.
TEST(BoardBikes, MayDimTheirRegistersByTheEnable) {
    const TempFolder folder;
    std::string elf = other_bike_elf(folder, {{"registers{32, 255,", "registers{32, 128,"},
                                              {"255, 0},  // 0", "128, 0}, // 0"},
                                              {"255, 0}, // 1", "128, 0}, // 1"},
                                              {"255, 0},  // 2", "128, 0}, // 2"},
                                              {"255, 0}, // 3", "128, 0}, // 3"}});
    Bench bench(elf);
    bench.run_until_us(50'000);
    EXPECT_NEAR(bench.level_of(demo::enable), 255 - 128, 1);
}

// Nothing that the outputs can't do gets as far as a bike.
TEST(BoardBikes, DoNotCompileIfTheOutputsCannotShowThem) {
    struct Wrong {
        std::string text;
        std::string changed;
        std::string message;
    };
    for (const Wrong& wrong :
         {Wrong{"outward(30_ms)", "fading_in(32, 20_ms)", "fades"},
          Wrong{"outward(30_ms), 255", "outward(30_ms), 200", "a brightness of its own"},
          Wrong{"{0, 0, 0, 6},", "{0, 0, 4, 6},", "an output in common"},
          Wrong{"{5, 0, Pin::d5}", "{5, 0, Pin::d4}", "needs a pin that has PWM"},
          Wrong{"{5, 0, Pin::d5}", "{5, 0, Pin::d6}", "a pin has two uses"},
          Wrong{"{5, 0, Pin::d5}", "{5, 0, Pin::b3}", "one of the UART's or of the SPI's"},
          Wrong{"Pin::c0, true, 289, 201", "Pin::d7, true, 289, 201", "a pin that cannot read it"},
          Wrong{"289, 201", "201, 289", "thresholds are swapped"},
          Wrong{"settle_us = 5_ms", "settle_us = 2_s", "bike::settings are out of range"}}) {
        const TempFolder folder;
        try {
            other_bike_elf(folder, {{wrong.text, wrong.changed}});
            ADD_FAILURE() << wrong.changed << " compiles";
        } catch (const std::runtime_error& printed) {
            EXPECT_NE(std::string(printed.what()).find(wrong.message), std::string::npos) << printed.what();
        }
    }
}

TEST(BoardBikes, CompileWithoutRegistersWithoutPinsAndWithAllTaps) {
    const std::string brake = "    adc_tap(Lines::brake, Pin::c2, true, 289, 201),";
    const std::vector<std::vector<std::pair<std::string, std::string>>> bikes{
        {{"{32, 255, Pin::b2, Pin::d3, 4000000}", "{0, 255, Pin::none, Pin::none, 4000000}"},
         {"{0, 0, 0, 6},", "{0, 0, 0, 0},"},
         {"{1, 0, 8, 6},", "{0, 0, 0, 0},"},
         {"{2, 0, 16, 6},", "{0, 0, 0, 0},"},
         {"{3, 0, 24, 6},", "{0, 0, 0, 0},"}},
        {{"{4, 0, Pin::b1}", "{4, 0, Pin::none}"},
         {"{5, 0, Pin::d5}", "{5, 0, Pin::none}"},
         {"{6, 0, Pin::d6}", "{6, 0, Pin::none}"}},
        {{brake, brake + "\n    adc_tap(Lines::brake, Pin::adc6, true, 289, 201),"}}};
    for (const auto& bike : bikes) {
        const TempFolder folder;
        EXPECT_NO_THROW(other_bike_elf(folder, bike));
    }
}

// The key is off, and stays off: lamps are dark, markers too. simavr doesn't sleep deeply, so what wakes the
// chip is argued in README.md; that it shows all again when a line is lit is seen here.
TEST(BoardBikes, AreDarkWhenParkedAndAwakeWithTheFirstLine) {
    const TempFolder folder;
    Bench bench(other_bike_elf(folder, {{"park_after_s = 60", "park_after_s = 2"}}));
    bench.play({{40'000, supply}, {500'000, 0}, {4'000'000, supply}, {4'500'000, supply | left}});
    bench.run_until_us(2'400'000);
    EXPECT_EQ(bench.level_of(demo::marker_left), 120) << "not yet";
    bench.run_until_us(2'700'000);
    EXPECT_EQ(bench.level_of(demo::marker_left), 0);
    EXPECT_EQ(bench.level_of(demo::marker_right), 0);
    bench.run_until_us(4'100'000);
    EXPECT_EQ(bench.level_of(demo::marker_left), 120) << "the key is on again";
    bench.run_until_us(4'600'000);
    EXPECT_EQ(bench.output(0).back().level, 255);
    EXPECT_EQ(bench.chip().resets(), 0) << "the watchdog was taken along to sleep and back";
}

// The clock of 32 bits runs over every 71.6 minutes. It is set to half a second before that, and to what it
// is half an hour and more after the last step, when the last step seems to be still to come.
TEST(BoardBikes, LiveThroughTheClocksOverflow) {
    const unsigned clock = address_in_board("clock");
    for (const std::uint32_t count : {0xffffffffu - 500'000u, 0x80000400u, 0xfff00000u}) {
        Bench bench(board_elf());
        bench.run_until_us(30'000);
        const std::uint32_t ticks_us = count & ~127u;
        for (unsigned byte = 0; byte < 4; ++byte)
            bench.chip().poke(clock + byte, static_cast<std::uint8_t>(ticks_us >> 8 * byte));
        bench.play(ride);
        bench.run_until_us(end_us);
        expect_as_seen(bench, fmt::format("clock at {:x}", ticks_us));
    }
}

// The quickest flashes that a lamp out makes (derived): 276 a minute.
TEST(BoardBikes, FlashFor30MinutesAt276AMinute) {
    const double length_us = std::getenv("WINKHOLD_LONG") != nullptr ? 30 * 60e6 : 10e6;
    Bench bench(board_elf());
    Ride fast{{40'000, supply}};
    for (long long t_us = 100'000; static_cast<double>(t_us) < length_us; t_us += 217'391) {
        fast.push_back({t_us, supply | right});
        fast.push_back({t_us + 87'000, supply});
    }
    bench.play(fast);
    bench.run_until_us(length_us);
    EXPECT_EQ(bench.chip().resets(), 0);
    const Lag lag = expect_as_seen(bench, "276 a minute");
    EXPECT_LE(lag.most, 1'128);
    for (unsigned output : {0u, 7u, 16u})
        EXPECT_EQ(bench.output(output).size(), 1u) << "dark all along";
}

} // namespace
} // namespace winkhold::testing
