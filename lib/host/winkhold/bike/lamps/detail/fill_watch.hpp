/// Frames -> fills: how far each flash of each turn group got.
#pragma once

#include "winkhold/bike/lamps/lamp_frames.hpp"

#include <optional>

namespace winkhold::bike {

class FillWatch {
public:
    explicit FillWatch(const std::vector<core::LampGroup>& groups)
        : states_(groups.size()), groups_(groups) {}

    template <class Listener>
    void frame(const LampFrame& frame, Listener& listener) {
        for (std::size_t i = 0; i < states_.size(); ++i)
            if (groups_[i].job == core::Job::turn) one(i, frame, listener);
    }

    template <class Listener>
    void finish(TimeUs end_us, Listener& listener) {
        for (State& state : states_) {
            if (state.running) end(state, end_us);
            tell(state, true, listener);
        }
    }

private:
    struct State {
        std::optional<LampFill> running;
        std::optional<LampFill> ended; ///< until it is known whether it may be cut
    };

    template <class Listener>
    void one(std::size_t i, const LampFrame& frame, Listener& listener) {
        State& state = states_[i];
        const core::LampGroup& group = groups_[i];
        const std::uint16_t filled = filled_of(group, frame.groups[i]);
        // fewer than before, but not none: it begins anew
        if (state.running && filled < state.running->reached) end(state, frame.t_us);
        const bool is_shown = (static_cast<unsigned>(frame.shown) & static_cast<unsigned>(group.side)) != 0;
        if (!is_shown) tell(state, true, listener);
        if (filled == 0) return;
        if (!state.running) {
            tell(state, false, listener);
            state.running = LampFill{.group = i, .start_us = frame.t_us};
        }
        state.running->reached = filled;
        if (!state.running->full() && filled == group.to_fill()) state.running->full_us = frame.t_us;
    }

    static std::uint16_t filled_of(const core::LampGroup& group, core::GroupFrame frame) {
        return group.pattern.fills == core::Pattern::Fills::lamps ? frame.lit : frame.level;
    }

    static void end(State& state, TimeUs t_us) {
        state.ended = state.running;
        state.ended->end_us = t_us;
        state.running.reset();
    }

    template <class Listener>
    static void tell(State& state, bool may_be_cut, Listener& listener) {
        if (!state.ended) return;
        state.ended->may_be_cut = may_be_cut;
        listener(*state.ended);
        state.ended.reset();
    }

    std::vector<State> states_;
    const std::vector<core::LampGroup>& groups_;
};

} // namespace winkhold::bike
