// What only somebody who stands beside the bike can say, and nobody has.
#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/bike/checklist/detail/rooms.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Keys = std::vector<std::string>;

/// Takes up what is missing, table by table.
class Facts {
public:
    Facts(const Vehicle& vehicle, Readiness& readiness) : vehicle_(vehicle), readiness_(readiness) {}

    bool is_given(const std::string& field) const {
        return vehicle_.origin(field) != Vehicle::Origin::nobody;
    }

    /// Keys that only have to be there.
    void ask(const std::string& table, const std::string& name, const Keys& keys) {
        Keys unsaid;
        for (const std::string& key : keys)
            if (!is_given(table + "." + key)) unsaid.push_back(key);
        tell(table, name, unsaid);
    }

    /// `table` as Vehicle::given() has it. One that is not there at all, or is the example's, is told by
    /// others.
    void tell(const std::string& table, const std::string& name, const Keys& unsaid) {
        if (vehicle_.origin(table) != Vehicle::Origin::owner || unsaid.empty()) return;
        const std::optional<Vehicle::Place> place = vehicle_.given(table);
        readiness_.missing.push_back(
            {Judge::facts,
             fmt::format("Facts, {}{}{}: enter {}.",
                         place ? fmt::format("{}:{}, ", place->file, place->line) : "", field_text(table),
                         name.empty() ? "" : fmt::format(" ({})", name), joined(unsaid, ", "))});
    }

private:
    const Vehicle& vehicle_;
    Readiness& readiness_;
};

/// Somebody licensed looks at colours and distances, whatever this place's book has numbers for.
Keys facts_of(const LampGroup& group) {
    Keys keys{"at", "colour", "led_v"};
    if (group.plays.job != core::Job::turn) return keys;
    keys.insert(keys.end(), {"across_mm", "low_edge_mm", "high_edge_mm"});
    if (group.at == LampEnd::front) keys.emplace_back("headlamp_mm");
    if (group.at == LampEnd::rear) keys.insert(keys.end(), {"stop_lamp_mm", "ahead_of_rear_mm"});
    return keys;
}

Keys facts_of(const FrontEnd& front_end, const Wiring& wiring) {
    Keys keys;
    if (front_end.input == InputKind::adc) keys = {"on_above", "off_below"};
    for (const std::string_view line : taps_of(wiring))
        if (line != "supply") keys.push_back(fmt::format("active_{}", line));
    return keys;
}

/// Whoever mends a wire needs all of it; `connector = ""` says that it has none.
void ask_wires(const Wiring& wiring, Facts& facts) {
    std::size_t number = 0;
    for (auto wire = wiring.wires.begin(); wire != wiring.wires.end(); ++number) {
        const auto end = std::find_if(wire, wiring.wires.end(),
                                      [&](const Wire& other) { return other.where != wire->where; });
        const std::string table = fmt::format("wires.{}", number);
        Keys unsaid;
        const auto want = [&](const char* key, bool is_missing) {
            if (is_missing) unsaid.emplace_back(key);
        };
        want("colour", std::any_of(wire, end, [](const Wire& one) { return one.colour.empty(); }));
        want("awg", std::any_of(wire, end, [](const Wire& one) { return !one.awg; }));
        want("length_m", std::any_of(wire, end, [](const Wire& one) { return !one.length_m; }));
        want("connector",
             !facts.is_given(table + ".connector") || std::any_of(wire, end, [](const Wire& one) {
                 return one.connector.empty() && !one.cavity.empty();
             }));
        want("cavity", std::any_of(wire, end, [](const Wire& one) {
                 return !one.connector.empty() && one.cavity.empty();
             }));
        facts.tell(table, wire->label, unsaid);
        wire = end;
    }
}

/// `line = ""` says that it hangs on none alone.
void ask_kept(const Wiring& wiring, Facts& facts) {
    for (std::size_t i = 0; i < wiring.kept.size(); ++i) {
        const std::string table = fmt::format("keep.{}", i);
        Keys unsaid;
        for (const char* key : {"kind", "line"})
            if (!facts.is_given(fmt::format("{}.{}", table, key))) unsaid.emplace_back(key);
        if (wiring.kept[i].why.empty()) unsaid.emplace_back("why");
        facts.tell(table, wiring.kept[i].name, unsaid);
    }
}

} // namespace

void take_facts(const Vehicle& vehicle, const BikeFacts& bike, Readiness& readiness) {
    Facts facts(vehicle, readiness);
    facts.ask("flasher", "", {"jitter_percent", "side_change"});
    facts.ask("lines", "", {"bounce", "rise_skew", "fall_skew"});
    if (scenario_or_demo_ride(vehicle).contacts.bounce_us > 0) facts.ask("lines", "", {"bounce_pulses"});
    const Lamps& lamps = bike.plan.lamps;
    for (std::size_t i = 0; i < lamps.size(); ++i)
        facts.ask(fmt::format("lamps.{}", i), lamps[i].name, facts_of(lamps[i]));
    if (bike.front_end) facts.ask("front_end", "", facts_of(*bike.front_end, bike.wiring));
    facts.ask("board", "", {"bulk_uf"});
    if (bike.board && bike.board->bulk_uf > 0) facts.ask("board", "", {"bulk_feeds"});
    ask_wires(bike.wiring, facts);
    ask_kept(bike.wiring, facts);
}

} // namespace winkhold::bike
