#include "winkhold/host/trace/phases.hpp"

#include "winkhold/host/trace/replay.hpp"

#include <algorithm>

namespace winkhold::host {
namespace {

/// Watches one side of the decoder step by step.
class PhaseFinder {
public:
    PhaseFinder(const core::Settings& swept, std::vector<Phase>& phases) : swept_(swept), phases_(phases) {
        phases_.clear();
    }

    void look(TimeUs t_us, const core::TurnLine& line) {
        const bool on = line.on();
        if (on != on_) {
            on_ = on;
            if (on)
                phases_.push_back({.rise_us = t_us});
            else
                fall(t_us, line);
        }
        const bool held = line.held();
        if (held_ && !held) phases_.back().limit_us = std::min(phases_.back().limit_us, t_us);
        held_ = held;
    }

private:
    void fall(TimeUs t_us, const core::TurnLine& line) {
        Phase& phase = phases_.back();
        phase.last_high_us = t_us - core::elapsed_us(to_core(t_us), line.last_high());
        if (swept_.rule == core::HoldRule::fixed) {
            phase.base_us = phase.last_high_us;
            return;
        }
        phase.limit_us = std::min(phase.limit_us, phase.last_high_us + swept_.hold_us);
        if (line.cadence().knows_gap()) phase.base_us = phase.last_high_us + line.cadence().longest_gap_us();
    }

    const core::Settings& swept_;
    std::vector<Phase>& phases_;
    bool on_{false};
    bool held_{false};
};

} // namespace

void find_phases(const Trace& trace, const core::Settings& settings, Phases& phases) {
    core::Settings longest = settings;
    longest.rule = core::HoldRule::fixed;
    longest.hold_us = core::limits::longest_hold_us;
    PhaseFinder left(settings, phases[0]);
    PhaseFinder right(settings, phases[1]);
    replay(trace, longest, [&](TimeUs t_us, const core::Decoder& decoder) {
        if (!decoder.stirred()) return;
        left.look(t_us, decoder.line(core::Side::left));
        right.look(t_us, decoder.line(core::Side::right));
    });
}

} // namespace winkhold::host
