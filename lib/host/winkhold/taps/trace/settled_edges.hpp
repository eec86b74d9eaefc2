/// A trace's settled edges: the lines without bounce, short pulses and PWM gaps.
#pragma once

#include "winkhold/core/settle.hpp"
#include "winkhold/taps/trace/trace.hpp"

namespace winkhold::taps {

/// One settled edge of one side.
struct SettledEdgeAt {
    TimeUs t_us; ///< when it settles
    core::Side side;
    bool rise;
    TimeUs last_high_us; ///< of a fall: the last moment the line read high
};

/// Settles both turn lines of a stream of edges. The same edges that a decoder settles, at less cost: the
/// lines don't wait for each other here. found(SettledEdgeAt) is called in order of time.
class LineSettler {
public:
    /// Both lines dark; `settings` must pass check().
    explicit LineSettler(const core::Settings& settings) : context_(settings) {}

    /// The next edge, in order of time; calls found(SettledEdgeAt) for each that settles up to it.
    template <class Found>
    void feed(const Edge& edge, Found&& found) {
        finish(edge.t_us, found);
        const std::uint8_t changed = before_ ^ edge.lines.bits();
        before_ = edge.lines.bits();
        for (const core::Side side : {core::Side::left, core::Side::right}) {
            if ((changed & (side == core::Side::left ? core::Lines::left : core::Lines::right)) == 0)
                continue;
            core::Settle& settle = lines_[static_cast<std::size_t>(side)].settle;
            tell(side, edge.t_us, settle.change(at(edge.t_us)), found);
        }
    }

    /// Nothing changes up to and including `end_us`.
    template <class Found>
    void finish(TimeUs end_us, Found&& found) {
        while (lines_[0].due_us <= end_us || lines_[1].due_us <= end_us) {
            const auto side = lines_[1].due_us < lines_[0].due_us ? core::Side::right : core::Side::left;
            Line& line = lines_[static_cast<std::size_t>(side)];
            const TimeUs t_us = line.due_us;
            tell(side, t_us, line.settle.expire(at(t_us)), found);
        }
    }

private:
    struct Line {
        core::Settle settle;
        TimeUs due_us{never_us};
    };

    template <class Found>
    void tell(core::Side side, TimeUs t_us, core::SettledEdge settled, Found& found) {
        Line& line = lines_[static_cast<std::size_t>(side)];
        const core::Timer timer = line.settle.timer();
        line.due_us = timer.armed ? t_us + core::elapsed_us(timer.at, context_.now) : never_us;
        if (settled == core::SettledEdge::none) return;
        const TimeUs last_high_us = t_us - core::elapsed_us(context_.now, line.settle.last_high());
        found(SettledEdgeAt{t_us, side, settled == core::SettledEdge::rise, last_high_us});
    }

    const core::Context& at(TimeUs t_us) {
        context_.now = core::moment(to_core(t_us));
        return context_;
    }

    core::Context context_;
    Line lines_[2];
    std::uint8_t before_{0};
};

} // namespace winkhold::taps
