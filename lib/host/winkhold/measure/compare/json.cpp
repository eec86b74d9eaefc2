// Comparisons for programs: JSON.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/measure/compare/report.hpp"
#include "winkhold/measure/compare/worth_report.hpp"

namespace winkhold::measure {
namespace {

Json summary(const Summary& s) {
    return {{"mean", ms(s.mean_us)}, {"p99", ms(s.p99_us)}, {"max", ms(s.max_us)}, {"count", s.count}};
}

Json times(const DecoderFigures& figures) {
    return {{"overlap_ms", summary(figures.overlap)},
            {"release_ms", summary(figures.release)},
            {"acquire_ms", summary(figures.acquire)}};
}

Json counts_and_times(const DecoderFigures& figures) {
    Json json{{"dropouts", figures.dropouts},
              {"late_dropouts", figures.late_dropouts},
              {"false_shows", figures.false_shows},
              {"missed", figures.missed}};
    json.update(times(figures));
    return json;
}

Json place(const Cell& cell) {
    return {{"flasher", name(cell.side_change)},
            {"period_ms", ms(cell.period_us)},
            {"duty_percent", cell.duty_percent},
            {"jitter_percent", cell.jitter_percent}};
}

} // namespace

std::string compare_json(const Comparison& comparison) {
    Json json{
        {"schema", "winkhold.compare/1"}, {"seed", comparison.plan.seed}, {"known_flashes", known_flashes}};
    json["cells"] = Json::array();
    for (std::size_t c = 0; c < comparison.cells.size(); ++c) {
        const RidesFigures& figures = comparison.figures[c];
        Json cell = place(comparison.cells[c]);
        cell["flashes"] = figures.flashes;
        cell["late_flashes"] = figures.late_flashes;
        cell["decoders"] = Json::array();
        for (std::size_t i = 0; i < cell_decoders; ++i) {
            Json decoder{{"decoder", cell_decoder_names[i]}};
            decoder.update(counts_and_times(figures.decoders[i]));
            decoder["early_release_ms"] = summary(figures.decoders[i].early_release);
            cell["decoders"].push_back(std::move(decoder));
        }
        cell["bound"] = times(figures.bound);
        cell["bound"]["early_release_ms"] = summary(figures.bound.early_release);
        json["cells"].push_back(std::move(cell));
    }
    json["misses"] = Json::array();
    for (const Miss& miss : comparison.misses) {
        Json one = place(comparison.cells[miss.cell]);
        one.update({{"what", miss.what}, {"unit", miss.unit}, {"value", miss.value}, {"limit", miss.limit}});
        json["misses"].push_back(std::move(one));
    }
    return json_text(json);
}

std::string worth_json(const WorthTable& table) {
    Json json{{"schema", "winkhold.worth/1"},
              {"seed", table.plan.seed},
              {"fault_seeds", table.plan.fault_seeds},
              {"faults", table.faults},
              {"families", table.families},
              {"family_rides", table.plan.family_rides},
              {"unknown_flashes", table.unknown_flashes},
              {"jittery_flashes", table.jittery_flashes}};
    json["rules"] = Json::array();
    for (const RuleRow& row : table.rows)
        json["rules"].push_back({{"rule", row.decoder.name},
                                 {"unknown", counts_and_times(row.unknown)},
                                 {"jittery", counts_and_times(row.jittery)},
                                 {"family_dropouts_a_request", row.family_dropouts},
                                 {"faults_passed", row.faults_passed}});
    return json_text(json);
}

} // namespace winkhold::measure
