// The sweep for programs: JSON and CSV.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/statistics/binomial.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/measure/sweep/report.hpp"

#include <fmt/format.h>

namespace winkhold::measure {
namespace {

Json figures(const Summary& s) {
    return {{"mean", ms(s.mean_us)}, {"p50", ms(s.p50_us)}, {"p95", ms(s.p95_us)},
            {"p99", ms(s.p99_us)},   {"max", ms(s.max_us)}, {"count", s.count}};
}

double rate(std::int64_t count, std::int64_t tries) {
    return tries == 0 ? 0 : static_cast<double>(count) / static_cast<double>(tries);
}

Json point_json(const Sweep& sweep, const CurvePoint& point) {
    Json json;
    if (!point.label.empty()) json["label"] = point.label;
    json["rule"] = name(point.rule);
    json["hold_ms"] = ms(point.hold_us);
    if (point.rule == core::HoldRule::paced) json["guard_ms"] = ms(point.guard_us);
    json["dropout"] = {{"flashes", sweep.flashes},
                       {"count", point.dropouts},
                       {"rate", rate(point.dropouts, sweep.flashes)},
                       {"upper95", upper95(point.dropouts, sweep.flashes)}};
    if (sweep.population)
        json["bikes"] = {{"count", sweep.bikes},
                         {"with_dropout", point.bikes_with_dropout},
                         {"rate", rate(point.bikes_with_dropout, sweep.bikes)},
                         {"upper95", upper95(point.bikes_with_dropout, sweep.bikes)}};
    json["false_shows"] = point.false_shows;
    json["missed"] = point.missed;
    json["overlap_ms"] = figures(point.overlap);
    json["release_ms"] = figures(point.release);
    json["acquire_ms"] = figures(point.acquire);
    return json;
}

} // namespace

std::string sweep_json(const Sweep& sweep) {
    Json json;
    json["schema"] = "winkhold.sweep/1";
    json["curve"] = Json::array();
    for (const CurvePoint& point : sweep.curve)
        json["curve"].push_back(point_json(sweep, point));
    if (sweep.choice.point) {
        const CurvePoint& point = sweep.curve[*sweep.choice.point];
        Json& chosen = json["chosen"];
        chosen["rule"] = name(point.rule);
        chosen["hold_ms"] = ms(point.hold_us);
        if (point.rule == core::HoldRule::paced) chosen["guard_ms"] = ms(point.guard_us);
        chosen["exact_ms"] = ms(sweep.choice.exact_us);
        chosen["overlap_ms"] = figures(point.overlap);
        chosen["release_ms"] = figures(point.release);
        chosen["reason"] = sweep.choice.reason;
    } else {
        json["chosen"] = nullptr;
    }
    json["reason"] = sweep.choice.reason;
    json["beside"] = Json::array();
    for (const CurvePoint& point : sweep.beside)
        json["beside"].push_back(point_json(sweep, point));
    if (sweep.bound)
        json["bound"] = {{"overlap_ms", figures(sweep.bound->overlap)},
                         {"release_ms", figures(sweep.bound->release)},
                         {"acquire_ms", figures(sweep.bound->acquire)}};
    else
        json["bound"] = nullptr;
    if (!sweep.still_example.sections.empty()) json["still_example"] = sweep.still_example.sections;
    json["population"] = sweep.population;
    json["target"] = sweep.plan.target;
    json["flashes"] = sweep.flashes;
    json["trials"] = sweep.bikes;
    json["seed"] = sweep.plan.seed;
    return json_text(json);
}

std::string sweep_csv(const Sweep& sweep) {
    Table table;
    for (const char* head : {"rule", "hold_ms", "guard_ms", "flashes", "dropouts", "dropout_upper95", "bikes",
                             "bikes_with_dropout", "false_shows", "missed"})
        table.columns.emplace_back(head);
    for (const char* what : {"overlap", "release", "acquire"})
        for (const char* which : {"mean", "p50", "p95", "p99", "max"})
            table.columns.emplace_back(fmt::format("{}_{}_ms", what, which));
    const auto number = [](auto value) { return fmt::format("{}", value); };
    for (const CurvePoint& p : sweep.curve) {
        std::vector<std::string> row{
            std::string(name(p.rule)), number(ms(p.hold_us)),
            number(ms(p.guard_us)),    number(sweep.flashes),
            number(p.dropouts),        fmt::format("{:.6g}", upper95(p.dropouts, sweep.flashes)),
            number(sweep.bikes),       number(p.bikes_with_dropout),
            number(p.false_shows),     number(p.missed)};
        for (const Summary* s : {&p.overlap, &p.release, &p.acquire}) {
            row.push_back(fmt::format("{:.6g}", ms(s->mean_us)));
            for (const TimeUs us : {s->p50_us, s->p95_us, s->p99_us, s->max_us})
                row.push_back(number(ms(us)));
        }
        table.rows.push_back(std::move(row));
    }
    return table_csv(table);
}

} // namespace winkhold::measure
