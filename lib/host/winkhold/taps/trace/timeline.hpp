/// The answer over time.
#pragma once

#include "winkhold/taps/trace/replay.hpp"

#include <vector>

namespace winkhold::taps {

/// The answer from one moment on.
struct IndicationChange {
    TimeUs t_us{0};
    core::Indication indication{core::Indication::off};

    friend bool operator==(const IndicationChange&, const IndicationChange&) = default;
};

/// Changes in order of time; the first is at the start of the trace.
using Timeline = std::vector<IndicationChange>;

/// Observer for Replay that keeps the changes of the indication.
class TimelineRecorder {
public:
    /// Appends to `timeline`, which must outlive it.
    explicit TimelineRecorder(Timeline& timeline) : timeline_(&timeline) {}
    /// What Replay tells an observer: the decoder after a step at `t_us`.
    void operator()(TimeUs t_us, const core::Decoder& decoder) {
        if (!timeline_->empty() &&
            (!decoder.stirred() || timeline_->back().indication == decoder.indication()))
            return;
        timeline_->push_back({t_us, decoder.indication()});
    }

private:
    Timeline* timeline_;
};

/// The decoder's answer to a whole trace.
inline Timeline decode(const Trace& trace, const core::Settings& settings, TimeUs clock_offset_us = 0) {
    Timeline timeline;
    replay(trace, settings, TimelineRecorder(timeline), clock_offset_us);
    return timeline;
}

} // namespace winkhold::taps
