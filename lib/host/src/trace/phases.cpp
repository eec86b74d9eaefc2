#include "winkhold/host/trace/phases.hpp"

#include "winkhold/core/cadence.hpp"
#include "winkhold/core/intent.hpp"

#include <algorithm>

namespace winkhold::host {
namespace {

using core::Side;

/// Runs the core's cadence and handover over settled edges, with a hold that never ends. Only the order in
/// which the stages are asked stands here; a test holds it to the decoder's.
class PhaseFinder {
public:
    PhaseFinder(const core::Settings& settings, Phases& phases) : settings_(settings), phases_(phases) {
        for (auto& side : phases_)
            side.clear();
    }

    void take(const SettledEdgeAt& edge) {
        hand_over(edge.t_us - 1);
        for (Line& line : lines_)
            line.stop_timing(edge.t_us - 1);
        edge.rise ? rise(edge) : fall(edge);
    }

    void finish(TimeUs end_us) { hand_over(end_us); }

private:
    struct Line {
        core::Cadence cadence;
        TimeUs since_us{0}; ///< of the present phase: the rise, or the last high
        bool on{false};

        TimeUs longest_us() const { return on ? core::limits::longest_on_us : core::limits::longest_gap_us; }
        bool overlong(TimeUs now_us) const { return now_us - since_us >= longest_us(); }
        void stop_timing(TimeUs now_us) {
            if (overlong(now_us)) cadence.expire(to_core(since_us + longest_us()));
        }
    };

    Line& line(Side side) { return lines_[static_cast<std::size_t>(side)]; }
    std::vector<Phase>& phases(Side side) { return phases_[static_cast<std::size_t>(side)]; }

    /// Ends the handover window if that falls due up to `now_us`.
    void hand_over(TimeUs now_us) {
        if (window_ends_us_ > now_us) return;
        handover_.expire(to_core(window_ends_us_));
        const Side old = core::other(handover_.newcomer());
        if (!line(old).on || line(old).overlong(window_ends_us_ - 1)) {
            TimeUs& limit_us = phases(old).back().limit_us;
            limit_us = std::min(limit_us, window_ends_us_);
        }
        window_ends_us_ = never_us;
    }

    void rise(const SettledEdgeAt& edge) {
        const core::Micros now = to_core(edge.t_us);
        const Side rival = core::other(edge.side);
        const bool rival_held = !phases(rival).empty() && phases(rival).back().limit_us > edge.t_us;
        const bool rival_rose = line(rival).cadence.rose_within(settings_.handover_us, now);
        handover_.rise(edge.side, now, rival_held, rival_rose, settings_);
        const core::Alarm window = handover_.alarm();
        window_ends_us_ = window.armed ? edge.t_us + core::elapsed_us(window.at, now) : never_us;
        line(edge.side).cadence.rise(now);
        line(edge.side).on = true;
        line(edge.side).since_us = edge.t_us;
        phases(edge.side).push_back({.rise_us = edge.t_us});
    }

    void fall(const SettledEdgeAt& edge) {
        Line& falling = line(edge.side);
        Phase& phase = phases(edge.side).back();
        const bool cut = falling.cadence.fall(to_core(edge.last_high_us), settings_);
        falling.on = false;
        falling.since_us = phase.last_high_us = edge.last_high_us;
        if (cut && settings_.cut_short) phase.limit_us = std::min(phase.limit_us, edge.t_us);
        if (settings_.rule == core::HoldRule::fixed) {
            phase.base_us = edge.last_high_us;
            return;
        }
        phase.limit_us = std::min(phase.limit_us, edge.last_high_us + settings_.hold_us);
        if (falling.cadence.knows_gap()) phase.base_us = edge.last_high_us + falling.cadence.longest_gap_us();
    }

    const core::Settings& settings_;
    Phases& phases_;
    Line lines_[2];
    core::Handover handover_;
    TimeUs window_ends_us_{never_us};
};

} // namespace

void find_phases(const Trace& trace, const core::Settings& settings, Phases& phases) {
    PhaseFinder finder(settings, phases);
    LineSettler settler(settings);
    const auto take = [&](const SettledEdgeAt& edge) { finder.take(edge); };
    for (const Edge& edge : trace.edges)
        settler.feed(edge, take);
    settler.finish(trace.end_us, take);
    finder.finish(trace.end_us);
}

TimeUs find_phases(EdgeSource& source, const core::Settings& settings, Phases& phases) {
    PhaseFinder finder(settings, phases);
    LineSettler settler(settings);
    const auto take = [&](const SettledEdgeAt& edge) { finder.take(edge); };
    Edge edge;
    while (source.next(edge))
        settler.feed(edge, take);
    settler.finish(source.end_us(), take);
    finder.finish(source.end_us());
    return source.end_us();
}

} // namespace winkhold::host
