// What one step of the decoder costs, beside a bare hold of two lines: no bounce, no learning, no hazard.
#include "winkhold/core/core.hpp"

#include <benchmark/benchmark.h>
#include <vector>

namespace {

using namespace winkhold;

/// Shown until `hold_us` after the line was last high.
class BareHold {
public:
    int step(std::uint32_t now_us, std::uint8_t lines) {
        int shown = 0;
        for (int side = 0; side < 2; ++side) {
            if ((lines & (1 << side)) != 0) {
                last_high_us_[side] = now_us;
                held_[side] = true;
            } else if (now_us - last_high_us_[side] > 840'000) {
                held_[side] = false;
            }
            if (held_[side]) shown |= 1 << side;
        }
        return shown;
    }

private:
    std::uint32_t last_high_us_[2]{};
    bool held_[2]{};
};

struct Step {
    std::uint32_t t_us;
    std::uint8_t lines;
};

/// Left, right and hazard in turn, 85 flashes/min: each change with two bounces, as edges only.
std::vector<Step> edges() {
    std::vector<Step> steps;
    std::uint32_t t_us = 0;
    std::uint8_t before = 0;
    for (int flash = 0; flash < 3'000; ++flash) {
        const auto lit = static_cast<std::uint8_t>(1 + flash / 8 % 3);
        for (const std::uint8_t lines : {lit, std::uint8_t{0}}) {
            for (const std::uint8_t bounce : {lines, before, lines}) {
                steps.push_back({t_us, bounce});
                t_us += 700;
            }
            before = lines;
            t_us += 350'000;
        }
    }
    return steps;
}

/// Items are steps with nothing changed, 100 us apart, in the middle of a flash and of a dark gap.
void decoder_idle(benchmark::State& state) {
    core::Decoder decoder{core::Settings{}};
    std::uint32_t now_us = 0;
    for (auto _ : state) {
        now_us += 100;
        benchmark::DoNotOptimize(
            decoder.step(core::Micros{now_us}, core::Lines{std::uint8_t(now_us >> 19 & 1)}));
    }
    state.SetItemsProcessed(state.iterations());
}
BENCHMARK(decoder_idle);

void bare_idle(benchmark::State& state) {
    BareHold hold;
    std::uint32_t now_us = 0;
    for (auto _ : state) {
        now_us += 100;
        benchmark::DoNotOptimize(hold.step(now_us, std::uint8_t(now_us >> 19 & 1)));
    }
    state.SetItemsProcessed(state.iterations());
}
BENCHMARK(bare_idle);

/// Items are edges. The decoder is also stepped whenever it asks for it, which is part of the cost.
void decoder_edges(benchmark::State& state) {
    const std::vector<Step> steps = edges();
    for (auto _ : state) {
        core::Decoder decoder{core::Settings{}};
        for (const Step& step : steps)
            benchmark::DoNotOptimize(decoder.step(core::Micros{step.t_us}, core::Lines{step.lines}));
    }
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(steps.size()));
}
BENCHMARK(decoder_edges);

void bare_edges(benchmark::State& state) {
    const std::vector<Step> steps = edges();
    for (auto _ : state) {
        BareHold hold;
        for (const Step& step : steps)
            benchmark::DoNotOptimize(hold.step(step.t_us, step.lines));
    }
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(steps.size()));
}
BENCHMARK(bare_edges);

} // namespace
