#include "winkhold/taps/inspect/inspect.hpp"

#include "winkhold/taps/inspect/detail/kept_edges.hpp"
#include "winkhold/taps/inspect/detail/line_watch.hpp"
#include "winkhold/taps/inspect/detail/other_watch.hpp"
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
    std::array<LineWatch, 2> lines;
    std::array<OtherWatch, 3> others{OtherWatch(core::Lines::brake), OtherWatch(core::Lines::tail),
                                     OtherWatch(core::Lines::supply)};
    KeptEdges kept;
    bool keeps_edges{true};
    std::optional<TimeUs> start_us;
    TimeUs tick_us{0};

    /// The decoder's watch, as somebody would run it who takes what is suggested.
    void watch(Inspection& seen) {
        core::Settings settings;
        settings.settle_us = seen.settle.us;
        settings.pwm_gap_us = seen.pwm_gap.us;
        DecodedFeed feed(settings);
        feed.on_fault([&](const FaultEvent& fault) {
            ++seen.lines[static_cast<std::size_t>(fault.line)].faults[fault.fault];
        });
        core::Lines inverted;
        for (const core::Side side : core::both_sides)
            if (seen.lines[static_cast<std::size_t>(side)].polarity == Polarity::low_is_lit)
                inverted =
                    inverted.with(side == core::Side::left ? core::Lines::left : core::Lines::right, true);
        kept.for_each([&](const Edge& edge) {
            const auto bits = static_cast<std::uint8_t>(edge.lines.bits() ^ inverted.bits());
            feed.feed({edge.t_us, core::Lines(bits)});
        });
        feed.finish(seen.end_us);
    }
};

Inspector::Inspector(Watch watch) : state_(std::make_unique<State>()) {
    state_->keeps_edges = watch == Watch::runs;
}
Inspector::~Inspector() = default;

void Inspector::feed(const Edge& edge) {
    if (!state_->start_us) state_->start_us = edge.t_us;
    if (state_->tick_us != 1) state_->tick_us = std::gcd(state_->tick_us, edge.t_us - *state_->start_us);
    for (const core::Side side : core::both_sides)
        state_->lines[static_cast<std::size_t>(side)].level(edge.t_us, edge.lines.has(side));
    for (OtherWatch& other : state_->others)
        other.level(edge.t_us, edge.lines);
    if (state_->keeps_edges) state_->kept.keep(edge);
}

Inspection Inspector::finish(TimeUs end_us) {
    Inspection inspection;
    inspection.start_us = state_->start_us.value_or(0);
    inspection.end_us = end_us;
    inspection.tick_us = std::max<TimeUs>(1, state_->tick_us);
    for (const std::size_t side : {0, 1})
        inspection.lines[side] = state_->lines[side].finish(end_us, inspection.tick_us);
    for (OtherWatch& other : state_->others)
        if (const auto seen = other.finish(end_us)) inspection.others.push_back(*seen);
    inspection.skew = find_skew(inspection.lines[0].lights, inspection.lines[1].lights);
    suggest(inspection);
    if (state_->keeps_edges) state_->watch(inspection);
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
