#include "winkhold/taps/inspect/inspect.hpp"

#include "winkhold/taps/inspect/detail/line_watch.hpp"
#include "winkhold/taps/trace/events.hpp"

#include <numeric>

namespace winkhold::taps {
namespace {

Skew find_skew(const std::vector<SeenLight>& left, const std::vector<SeenLight>& right) {
    Skew skew;
    for (std::size_t l = 0, r = 0; l < left.size() && r < right.size();) {
        const TimeUs rise_us = right[r].on_us - left[l].on_us;
        if (!one_flash(left[l], right[r])) {
            ++(rise_us > 0 ? l : r);
        } else {
            const SeenLight& a = left[l++];
            const SeenLight& b = right[r++];
            if (!a.whole() || !b.whole()) continue;
            skew.rise_us.push_back(rise_us);
            const TimeUs fall_us = b.off_us - a.off_us;
            if (std::abs(fall_us) <= widest_skew_us) skew.fall_us.push_back(fall_us);
        }
    }
    return skew;
}

} // namespace

struct Inspector::State {
    State() {
        watch.on_fault(
            [this](const FaultEvent& fault) { ++faults[static_cast<std::size_t>(fault.line)][fault.fault]; });
    }

    std::array<LineWatch, 2> lines;
    DecodedFeed watch{core::Settings{}};
    std::map<core::Fault, std::int64_t> faults[2];
    std::optional<TimeUs> start_us;
    TimeUs tick_us{0};
};

Inspector::Inspector() : state_(std::make_unique<State>()) {}
Inspector::~Inspector() = default;

void Inspector::feed(const Edge& edge) {
    if (!state_->start_us) state_->start_us = edge.t_us;
    if (state_->tick_us != 1) state_->tick_us = std::gcd(state_->tick_us, edge.t_us - *state_->start_us);
    for (const core::Side side : {core::Side::left, core::Side::right})
        state_->lines[static_cast<std::size_t>(side)].level(edge.t_us, edge.lines.has(side));
    state_->watch.feed(edge);
}

Inspection Inspector::finish(TimeUs end_us) {
    state_->watch.finish(end_us);
    Inspection inspection;
    inspection.start_us = state_->start_us.value_or(0);
    inspection.end_us = end_us;
    inspection.tick_us = std::max<TimeUs>(1, state_->tick_us);
    for (const std::size_t side : {0, 1}) {
        inspection.lines[side] = state_->lines[side].finish(end_us);
        inspection.lines[side].faults = state_->faults[side];
    }
    inspection.skew = find_skew(inspection.lines[0].lights, inspection.lines[1].lights);
    suggest(inspection);
    return inspection;
}

Inspection inspect(EdgeSource& source) {
    Inspector inspector;
    Edge edge;
    while (source.next(edge))
        inspector.feed(edge);
    return inspector.finish(source.end_us());
}

} // namespace winkhold::taps
