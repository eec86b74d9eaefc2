#include "winkhold/measure/waveform/detail/scenario_sections.hpp"

namespace winkhold::measure {
namespace {

constexpr TimeUs longest_us = 60'000'000;

Disturbance read_one(TomlFields& fields, const toml::node& at, Disturbance::What what) {
    Disturbance one;
    one.what = what;
    if (const int taps = fields.choice("taps", {"own", "other", "both", "one-bad"}); taps >= 0)
        one.taps = static_cast<Disturbance::Taps>(taps);
    if (const int flashes = fields.choice("flashes", {"all", "first", "hazard"}); flashes >= 0)
        one.flashes = static_cast<Disturbance::Flashes>(flashes);
    fields.range("percent", 0, 100, one.percent);
    fields.duration_range("for", longest_us, one.for_us);
    if (fields.has("after")) fields.duration_range("after", longest_us, one.after_us.emplace());
    fields.whole("times", 1, 100, one.times);
    if (what == Disturbance::What::breaks) {
        fields.range("hz", 0, 10'000, one.hz);
        fields.range("open_percent", 1, 99, one.open_percent);
        if (one.taps == Disturbance::Taps::other)
            fields.refuse("taps", at, "the other side has no light that could break");
        if (one.after_us && !one.hz.zero()) fields.refuse("hz", at, "vibrates anywhere; delete after");
    }
    if (one.for_us.zero()) fields.refuse("for", at, "missing; say how long it lasts");
    return one;
}

} // namespace

void read_disturbances(const std::string& file, TomlFields& lines, std::vector<Disturbance>& disturbances) {
    const auto read = [&](const char* name, Disturbance::What what) {
        const toml::node* node = lines.node(name);
        if (node == nullptr) return;
        const toml::array* list = node->as_array();
        if (list == nullptr)
            lines.refuse(name, *node, "write a list, like [{ percent = 20, for = [\"6ms\", \"25ms\"] }]");
        for (const toml::node& one : *list) {
            if (!one.is_table()) lines.refuse(name, one, "each is { percent = ..., for = ... }");
            TomlFields fields(file, std::string("lines.") + name, *one.as_table());
            disturbances.push_back(read_one(fields, one, what));
            fields.done();
        }
    };
    read("breaks", Disturbance::What::breaks);
    read("strays", Disturbance::What::stray);
}

} // namespace winkhold::measure
