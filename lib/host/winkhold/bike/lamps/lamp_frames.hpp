/// Trace + settings + lamps -> what every lamp shows, frame by frame, and how far each flash was swept.
#pragma once

#include "winkhold/bike/lamps/lamp_plan.hpp"
#include "winkhold/core/board.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include <functional>
#include <memory>
#include <vector>

namespace winkhold::bike {

/// All groups from `t_us` on.
struct LampFrame {
    TimeUs t_us{0};
    core::Indication shown{core::Indication::off};
    /// In the order of the plan's lamps: brightness(lamp) of each, lamps counted from 0.
    std::vector<core::GroupFrame> groups;
};

/// One flash of one turn group. Moments are those of the lamps, so settle and hold are part of them.
struct LampFill {
    std::size_t group{0};     ///< of the plan's lamps
    TimeUs start_us{0};       ///< the first block lights
    TimeUs end_us{0};         ///< all of it is dark again, or begins anew
    TimeUs full_us{never_us}; ///< the last block lights; never_us: the flash ended first
    std::uint16_t reached{0}; ///< lamps (a fade: levels of brightness) that were lit at the end
    /// The last flash before its side is no longer shown, or before the trace ends: a cancel may have cut it.
    bool may_be_cut{false};

    /// The whole group was lit before the flash ended.
    bool full() const { return full_us != never_us; }
};

/// Plays a stream of edges on a plan's lamps and tells a listener. Memory does not grow with its length.
class LampPlayer {
public:
    /// All lamps dark. `settings` must pass check(); the plan is copied.
    LampPlayer(const core::Settings& settings, const LampPlan& plan);
    ~LampPlayer();
    LampPlayer(LampPlayer&&) noexcept;
    LampPlayer& operator=(LampPlayer&&) noexcept;

    /// The first frame comes with the first edge, then one whenever a lamp or the indication changes.
    void on_frame(std::function<void(const LampFrame&)> listener);
    /// Each fill once it is known whether it may be cut: at the side's next flash, or when it is let go.
    void on_fill(std::function<void(const LampFill&)> listener);

    /// Edges in order of time.
    void feed(const Edge& edge);
    /// Nothing changes up to and including `end_us`.
    void finish(TimeUs end_us);

private:
    struct Playing;
    std::unique_ptr<Playing> playing_;
};

/// A whole trace played.
struct LampFrames {
    std::vector<LampFrame> frames;
    std::vector<LampFill> fills; ///< by the moment at which each became known
    TimeUs end_us{0};
};

/// Plays a whole trace. The same trace, settings and plan give the same frames, whatever the clock's count.
LampFrames lamp_frames(const Trace& trace, const core::Settings& settings, const LampPlan& plan);

} // namespace winkhold::bike
