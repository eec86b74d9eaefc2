#include "winkhold/bike/limits/observed.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/bike/limits/detail/lamp_watch.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

void note_line(const LineView& line, const std::string& who, std::vector<std::string>& notes) {
    if (line.polarity == Polarity::low_is_lit)
        notes.push_back(fmt::format("The {} rests high; its lows are taken as lit. Is --active right?", who));
    for (const auto& [fault, count] : line.faults)
        if (fault == core::stuck_on || fault == core::alternating)
            notes.push_back(fmt::format("The {}: {} ({}x): {}.", who, name(fault), count, advice(fault)));
}

Observed observed_lines(Inspection seen) {
    Observed observed;
    observed.end_us = seen.end_us;
    for (const core::Side side : {core::Side::left, core::Side::right}) {
        LineView& line = seen.lines[static_cast<std::size_t>(side)];
        Signal& signal = observed.signals.emplace_back(Signal{SignalOf::line, side, {}});
        note_line(line, signal.name(), observed.notes);
        signal.lights = std::move(line.lights);
    }
    return observed;
}

} // namespace

std::string Signal::name() const {
    return fmt::format("{} {}", host::name(side), of == SignalOf::line ? "line" : "lamps");
}

struct Observer::Watched {
    Inspector lines;
    std::optional<LampWatch> lamps;
};

Observer::Observer(const LampPlan& plan, const core::Settings& decoder)
    : watched_(std::make_unique<Watched>()) {
    if (!plan.lamps.empty()) watched_->lamps.emplace(plan, decoder);
}
Observer::~Observer() = default;

void Observer::feed(const Edge& edge) {
    watched_->lines.feed(edge);
    if (watched_->lamps) watched_->lamps->feed(edge);
}

Observed Observer::finish(TimeUs end_us) {
    Observed observed = observed_lines(watched_->lines.finish(end_us));
    if (watched_->lamps) watched_->lamps->finish(end_us, observed);
    return observed;
}

std::vector<Asked> asked_in(const Timeline& switched, TimeUs end_us) {
    std::vector<Asked> asked;
    for (std::size_t i = 0; i < switched.size(); ++i)
        if (switched[i].indication != core::Indication::off)
            asked.push_back({switched[i].indication, switched[i].t_us,
                             i + 1 < switched.size() ? switched[i + 1].t_us : end_us});
    return asked;
}

std::vector<Asked> asked_in(const Truth& truth) {
    std::vector<Asked> asked;
    for (const Request& request : truth.requests)
        asked.push_back({request.show, request.start_us, request.end_us});
    return asked;
}

Trace with_brake(const Trace& trace) {
    const bool has_brake = std::any_of(trace.edges.begin(), trace.edges.end(),
                                       [](const Edge& edge) { return edge.lines.has(core::Lines::brake); });
    if (has_brake) return trace;
    constexpr TimeUs half_us = 137'000; // no share of a flash, so that presses wander through it
    Trace braked;
    braked.end_us = trace.end_us;
    core::Lines lines;
    bool pressed = false;
    TimeUs next_us = half_us;
    const auto press_until = [&](TimeUs t_us) {
        for (; next_us < t_us; next_us += half_us) {
            pressed = !pressed;
            braked.edges.push_back({next_us, lines.with(core::Lines::brake, pressed)});
        }
    };
    for (const Edge& edge : trace.edges) {
        press_until(edge.t_us);
        lines = edge.lines;
        braked.edges.push_back({edge.t_us, lines.with(core::Lines::brake, pressed)});
    }
    press_until(trace.end_us);
    return braked;
}

} // namespace winkhold::bike
