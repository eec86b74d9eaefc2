#include "winkhold/measure/compare/compare.hpp"

#include "winkhold/base/detail/parallel.hpp"

namespace winkhold::measure {
namespace {

using namespace core::literals;

constexpr std::uint32_t margin_us = 40_ms; // serves jitter of 1 % without `spread`
constexpr std::uint32_t handover_us = 30_ms;

std::vector<ComparedDecoder> decoders(const Cell& cell) {
    std::vector<core::Settings> settings(cell_decoders);
    settings[fixed_fitted] = plain_hold(static_cast<TimeUs>(cell.dark_us() + 0.5) + margin_us);
    settings[fixed_840] = plain_hold(plain_hold_us);
    core::Settings& plain = settings[paced];
    plain.guard_us = margin_us;
    plain.spread = plain.cut_short = false;
    plain.handover_us = 0;
    settings[paced_handover] = plain;
    settings[paced_handover].handover_us = handover_us;
    std::vector<ComparedDecoder> compared;
    for (std::size_t i = 0; i < cell_decoders; ++i)
        compared.push_back({cell_decoder_names[i], settings[i]});
    return compared;
}

RiderStep flashing(core::Indication show) {
    return {.show = show, .by_flashes = true, .flashes = {4, 9}, .for_us = {}};
}

} // namespace

std::vector<Cell> all_cells() {
    std::vector<Cell> cells;
    for (const int jitter_percent : {0, 1, 5})
        for (const SideChange side_change :
             {SideChange::restart, SideChange::free_running, SideChange::whole_cycle})
            for (const TimeUs period_us : {500'000, 706'000, 1'000'000})
                for (const int duty_percent : {30, 50, 70})
                    cells.push_back({side_change, period_us, duty_percent, jitter_percent});
    return cells;
}

Scenario cell_scenario(const Cell& cell) {
    Scenario scenario;
    scenario.flasher.rate_per_min = 60e6 / static_cast<double>(cell.period_us);
    scenario.flasher.duty_percent = cell.duty_percent;
    scenario.flasher.jitter_percent = cell.jitter_percent;
    scenario.flasher.side_change = cell.side_change;
    scenario.contacts.bounce_us = 3'000;
    scenario.rider.transit_us = 70'000;
    const RiderStep silence{.show = core::Indication::off, .flashes = {}, .for_us = 2'000'000};
    const RiderStep left = flashing(core::Indication::left);
    const RiderStep right = flashing(core::Indication::right);
    scenario.rider.script = {silence, left, right, silence, right, left, silence, left, silence};
    scenario.rider.repeat = 4;
    scenario.decoder.settle_us = 5_ms;
    scenario.decoder.handover_us = handover_us;
    return scenario;
}

Comparison compare(const ComparePlan& plan, const Progress& progress) {
    Comparison comparison{plan, all_cells(), {}, {}};
    comparison.figures.resize(comparison.cells.size());
    for_each_index(
        comparison.cells.size(), plan.threads,
        [&](std::size_t i) {
            const Cell& cell = comparison.cells[i];
            comparison.figures[i] =
                compare_on_rides(cell_scenario(cell), decoders(cell), plan.flashes, plan.seed, known_flashes);
        },
        progress);
    for (std::size_t i = 0; i < comparison.cells.size(); ++i) {
        if (comparison.cells[i].jitter_percent != judged_jitter_percent) continue;
        for (Miss& miss : judge_cell(comparison.cells[i], comparison.figures[i])) {
            miss.cell = i;
            comparison.misses.push_back(std::move(miss));
        }
    }
    return comparison;
}

} // namespace winkhold::measure
