#include "winkhold/host/rules/observed.hpp"

#include "winkhold/host/report/names.hpp"

#include <fmt/format.h>

namespace winkhold::host {
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

std::vector<Asked> asked_in(const Timeline& switched, TimeUs end_us) {
    std::vector<Asked> asked;
    for (std::size_t i = 0; i < switched.size(); ++i)
        if (switched[i].indication != core::Indication::off)
            asked.push_back({switched[i].indication, switched[i].t_us,
                             i + 1 < switched.size() ? switched[i + 1].t_us : end_us});
    return asked;
}

Observed observe(EdgeSource& source) {
    return observed_lines(inspect(source));
}

Observed observe(const Ride& ride, std::int64_t trial) {
    Inspector inspector;
    for (const Edge& edge : ride.trace.edges)
        inspector.feed(edge);
    Observed observed = observed_lines(inspector.finish(ride.trace.end_us));
    observed.trial = trial;
    std::vector<Asked>& asked = observed.asked.emplace();
    for (const Request& request : ride.truth.requests)
        asked.push_back({request.show, request.start_us, request.end_us});
    return observed;
}

} // namespace winkhold::host
