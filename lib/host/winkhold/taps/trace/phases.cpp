#include "winkhold/taps/trace/phases.hpp"

#include "winkhold/core/hold.hpp"
#include "winkhold/core/intent.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

using core::Side;

/// Lets the core's Intent judge a stream of edges, and turns its verdicts into phases.
class PhaseFinder {
public:
    PhaseFinder(const core::Settings& settings, Phases& phases)
        : context_(settings), phases_(phases), settler_(settings) {
        for (auto& side : phases_)
            side.clear();
    }

    void feed(const Edge& edge) {
        const auto take = [this](const SettledEdgeAt& settled) { keep(settled); };
        const bool supply = edge.lines.has(core::Lines::supply);
        if (supply != supply_) {
            settler_.finish(edge.t_us - 1, take);
            judge();
            expire(edge.t_us - 1);
            intent_.supply(supply, at(edge.t_us));
            supply_ = supply;
            set_due(edge.t_us);
        }
        settler_.feed(edge, take);
    }

    void finish(TimeUs end_us) {
        settler_.finish(end_us, [this](const SettledEdgeAt& settled) { keep(settled); });
        judge();
        expire(end_us);
        for (auto& side : phases_) // a newcomer still waiting to be shown
            if (!side.empty() && side.back().rise_us == never_us) side.pop_back();
    }

private:
    std::vector<Phase>& phases(Side side) { return phases_[static_cast<std::size_t>(side)]; }

    /// Edges of one moment are judged together, in the order that Intent asks for.
    void keep(const SettledEdgeAt& edge) {
        if (!moment_.empty() && moment_.back().t_us != edge.t_us) judge();
        moment_.push_back(edge);
    }

    void judge() {
        if (moment_.empty()) return;
        expire(moment_.front().t_us - 1);
        for (const SettledEdgeAt& edge : moment_)
            if (!edge.rise) take(edge);
        std::erase_if(moment_, [](const SettledEdgeAt& edge) { return !edge.rise; });
        std::stable_partition(moment_.begin(), moment_.end(), [this](const SettledEdgeAt& edge) {
            return intent_.cadence(edge.side).would_resume(at(edge.t_us));
        });
        for (const SettledEdgeAt& edge : moment_)
            take(edge);
        moment_.clear();
    }

    void take(const SettledEdgeAt& edge) {
        if (edge.rise) {
            phases(edge.side).push_back({.rise_us = never_us});
            end(intent_.rise(edge.side, at(edge.t_us)), edge.t_us);
        } else {
            Phase& phase = phases(edge.side).back();
            const core::Moment last_high = core::moment(to_core(edge.last_high_us));
            end(intent_.fall(edge.side, last_high, at(edge.t_us)), edge.t_us);
            phase.last_high_us = edge.last_high_us;
            hold(phase, intent_.cadence(edge.side));
            if (const core::Span longest_us = intent_.longest_hold_us(); longest_us != core::forever_us)
                phase.limit_us =
                    std::min(phase.limit_us, std::max(edge.t_us, edge.last_high_us + longest_us));
            if (phase.rise_us == never_us) phases(edge.side).pop_back(); // never to be shown
        }
        show(edge.t_us);
        set_due(edge.t_us);
    }

    /// What the swept setting decides about the dark gap that begins.
    void hold(Phase& phase, const core::Cadence& cadence) const {
        if (context_.rule == core::HoldRule::fixed) {
            phase.base_us = phase.last_high_us;
            return;
        }
        phase.limit_us = std::min(phase.limit_us, phase.last_high_us + context_.hold_us);
        if (const core::Span gap_us = core::expected_gap_us(cadence, context_); gap_us != 0)
            phase.base_us = phase.last_high_us + gap_us;
    }

    void expire(TimeUs now_us) {
        while (due_us_ <= now_us) {
            const TimeUs t_us = due_us_;
            end(intent_.expire(at(t_us)), t_us);
            show(t_us);
            set_due(t_us);
        }
    }

    void end(core::Intent::LetGo sides, TimeUs t_us) {
        for (const Side side : {Side::left, Side::right}) {
            if ((sides & (side == Side::left ? 1u : 2u)) == 0 || phases(side).empty()) continue;
            Phase& phase = phases(side).back();
            phase.limit_us = std::min(phase.limit_us, t_us);
            if (phase.rise_us < phase.limit_us) continue;
            phase.rise_us = never_us; // over before it was shown, and so is the phase before
            if (phases(side).size() < 2) continue;
            TimeUs& before_us = phases(side)[phases(side).size() - 2].limit_us;
            before_us = std::min(before_us, t_us);
        }
    }

    /// A phase begins when it is shown, which a newcomer may have to wait for.
    void show(TimeUs t_us) {
        for (const Side side : {Side::left, Side::right}) {
            if (phases(side).empty() || (intent_.hidden() & (side == Side::left ? 1u : 2u)) != 0) continue;
            Phase& phase = phases(side).back();
            if (phase.limit_us > t_us) phase.rise_us = std::min(phase.rise_us, t_us);
        }
    }

    void set_due(TimeUs t_us) {
        core::Soonest soonest(at(t_us).now);
        intent_.wait(soonest);
        due_us_ = soonest.wait_us() == core::forever_us ? never_us : t_us + soonest.wait_us();
    }

    const core::Context& at(TimeUs t_us) {
        context_.now = core::moment(to_core(t_us));
        return context_;
    }

    core::Context context_;
    Phases& phases_;
    LineSettler settler_;
    core::Intent intent_;
    std::vector<SettledEdgeAt> moment_;
    TimeUs due_us_{never_us};
    bool supply_{false};
};

} // namespace

void find_phases(const Trace& trace, const core::Settings& settings, Phases& phases) {
    PhaseFinder finder(settings, phases);
    for (const Edge& edge : trace.edges)
        finder.feed(edge);
    finder.finish(trace.end_us);
}

TimeUs find_phases(EdgeSource& source, const core::Settings& settings, Phases& phases) {
    PhaseFinder finder(settings, phases);
    Edge edge;
    while (source.next(edge)) {
        finder.feed(edge);
        check_flashes(std::max(phases[0].size(), phases[1].size()));
    }
    finder.finish(source.end_us());
    check_flashes(std::max(phases[0].size(), phases[1].size()));
    return source.end_us();
}

} // namespace winkhold::taps
