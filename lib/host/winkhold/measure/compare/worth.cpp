#include "winkhold/measure/compare/worth.hpp"

#include "winkhold/base/detail/parallel.hpp"

namespace winkhold::measure {
namespace {

using namespace core::literals;
using core::Settings;

constexpr double much_jitter_percent = 5;

struct Rule {
    const char* name;
    void (*change)(Settings&);
};

constexpr Rule rules[] = {
    {"default", [](Settings&) {}},
    {"rule fixed, hold 1 s", [](Settings& s) { s.rule = core::HoldRule::fixed; }},
    {"hold 760 ms", [](Settings& s) { s.hold_us = 760_ms; }},
    {"guard 40 ms", [](Settings& s) { s.guard_us = 40_ms; }},
    {"spread off", [](Settings& s) { s.spread = false; }},
    {"spread off, guard 40 ms",
     [](Settings& s) {
         s.spread = false;
         s.guard_us = 40_ms;
     }},
    {"cut-short off", [](Settings& s) { s.cut_short = false; }},
    {"cut margin 40 ms", [](Settings& s) { s.cut_margin_us = 40_ms; }},
    {"handover off", [](Settings& s) { s.handover_us = 0; }},
    {"handover 30 ms", [](Settings& s) { s.handover_us = 30_ms; }},
    {"fall window off", [](Settings& s) { s.fall_window_us = 0; }},
    {"supply-gone off", [](Settings& s) { s.supply_gone_us = 0; }},
};

/// In the catalogue, where bikes differ within a fault: 85 flashes/min, half lit.
constexpr std::uint32_t catalogue_gap_us = 353_ms;

std::vector<RuleRow> rows_to_fill() {
    std::vector<RuleRow> rows;
    for (const Rule& rule : rules) {
        RuleRow& row = rows.emplace_back();
        row.decoder.name = rule.name;
        rule.change(row.decoder.settings);
    }
    RuleRow& measured = rows.emplace_back();
    measured.decoder.name = "gap prior given";
    measured.decoder.settings.gap_prior_us = catalogue_gap_us;
    measured.decoder.knows_gap = true;
    return rows;
}

Scenario scenario_in(const std::string& data, const std::string& name) {
    return scenario_of(data.empty() ? Vehicle::carried("data/" + name) : Vehicle::read(data + "/" + name));
}

} // namespace

WorthTable try_without(const WorthPlan& plan, const Progress& progress) {
    WorthTable table{.plan = plan, .rows = rows_to_fill()};
    std::vector<ComparedDecoder> decoders;
    std::vector<NamedDecoder> named;
    std::vector<Settings> settings;
    for (const RuleRow& row : table.rows) {
        decoders.push_back(row.decoder);
        named.push_back({row.decoder.name, row.decoder.settings});
        settings.push_back(row.decoder.settings);
    }
    std::vector<FaultCase> faults = read_faults(plan.data.empty() ? "" : plan.data + "/faults", {});
    std::vector<Family> families = read_families(plan.data.empty() ? "" : plan.data + "/families", {});
    table.faults = faults.size();
    table.families = families.size();
    Scenario scenarios[] = {scenario_in(plan.data, "scenarios/unknown.toml"),
                            scenario_in(plan.data, "scenarios/nominal.toml")};
    scenarios[1].flasher.jitter_percent = much_jitter_percent;

    std::size_t variants = 0;
    for (const Family& family : families)
        variants += family.variants.size();
    const auto pieces = static_cast<std::int64_t>(std::size(scenarios) + table.faults + variants);
    const auto tell_from = [&](std::int64_t before) -> Progress {
        if (!progress) return {};
        return
            [&progress, before, pieces](std::int64_t done, std::int64_t) { progress(before + done, pieces); };
    };
    RidesFigures figures[std::size(scenarios)];
    for_each_index(
        std::size(scenarios), plan.threads,
        [&](std::size_t i) {
            figures[i] = compare_on_rides(scenarios[i], decoders, plan.flashes, plan.seed);
        },
        tell_from(0));
    const FaultRun run = run_faults(std::move(faults), std::move(named), plan.fault_seeds, plan.threads,
                                    tell_from(std::size(scenarios)));
    const FamilyRun imperfect = run_families(
        std::move(families), settings,
        {.rides = plan.family_rides, .mixed_rides = 0, .seed = plan.seed, .threads = plan.threads},
        tell_from(static_cast<std::int64_t>(std::size(scenarios) + table.faults)));

    table.unknown_flashes = figures[0].flashes;
    table.jittery_flashes = figures[1].flashes;
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        table.rows[i].unknown = figures[0].decoders[i];
        table.rows[i].jittery = figures[1].decoders[i];
        table.rows[i].family_dropouts = mean_dropout_rate(imperfect, i);
        for (std::size_t f = 0; f < run.faults.size(); ++f)
            if (run.results[f][i].verdict != FaultVerdict::falls_short)
                table.rows[i].faults_passed.push_back(run.faults[f].id);
    }
    return table;
}

} // namespace winkhold::measure
