/// What is counted and measured about an answer, and the rules of counting.
#pragma once

#include "winkhold/measure/waveform/truth.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <cstdint>
#include <functional>
#include <vector>

namespace winkhold::measure {

/// Figures of one or many traces at one setting. Unit of times: us.
///
/// - **dropout**: a side goes out between its request's first light (or its start, if the request before
/// asked
///   for the same side) and the request's end.
/// - **release**: the request's end -> the side is gone; one figure a side. Counted until the side is asked
/// for
///   again, or the trace ends, at most.
/// - **overlap**: after a change from one side to the other, the time both are shown, from the old request's
/// end
///   to the new one's. Changes with more than 5 s between don't count.
/// - **acquire**: the request's first light -> the side is shown; one figure a side. `missed` if that never
///   happens before the next request or the trace's end; the figure is then the time until there.
/// - **false show**: a side goes on that nobody asks for and that is not lit any more.
struct Figures {
    std::int64_t flashes{0};
    std::int64_t dropouts{0};
    std::int64_t false_shows{0};
    std::int64_t missed{0};
    std::vector<TimeUs> overlap_us;
    std::vector<TimeUs> release_us;
    std::vector<TimeUs> acquire_us;
};

/// Adds the figures of one trace, read off the decoder's answer alone: of requests that begin in [from_us,
/// before_us), of false shows then, and of changes away from these requests.
void score(const Truth& truth, const Timeline& timeline, Figures& figures, TimeUs from_us = 0,
           TimeUs before_us = never_us);

/// One side of one request with the limits that the rules above give it; shared by score() and the sweep.
struct AskedSide {
    core::Side side;
    TimeUs start_us;
    TimeUs watched_from_us; ///< dropouts count from here
    TimeUs end_us;
    TimeUs first_light_us;
    TimeUs shown_by_us;      ///< missed if not shown before
    bool lit;                ///< any light at all
    bool released;           ///< the request's end takes this side away
    TimeUs gone_by_us;       ///< release counts until here at most
    TimeUs covered_until_us; ///< a show that begins before is no false show
};

/// A change of sides: overlap is measured from `from_us` to `to_us`.
struct Change {
    TimeUs from_us;
    TimeUs to_us;
};

/// What a scored event is: a count, or a time that is measured.
enum class ScoredWhat { dropout, false_show, missed, acquire, release, overlap };

/// One thing that was counted or measured, and when.
struct Scored {
    ScoredWhat what;
    TimeUs t_us;            ///< lost, falsely shown; or where the measured time ends (overlap: begins)
    TimeUs value_us;        ///< acquire, release, overlap; missed: the acquire that it was; else 0
    core::Side side;        ///< not of an overlap
    const AskedSide* asked; ///< null for a false show and an overlap
    const Change* change;   ///< of an overlap, else null
};

/// Calls scored(Scored) for all that score() adds up, each request's together.
void for_each_scored(const Truth& truth, const Timeline& timeline,
                     const std::function<void(const Scored&)>& scored);

/// Calls asked(AskedSide) for each side of each request and changed(Change) for each change, in order of
/// time.
template <class Asked, class Changed>
void for_each_event(const Truth& truth, Asked&& asked, Changed&& changed);

/// Judges shows of one side that begin at moments given in order of time, between the requests for that side.
class FalseShowJudge {
public:
    /// The next request for this side; shows that begin before its start must have been judged.
    void next(const AskedSide& asked) { covered_until_us_ = asked.covered_until_us; }
    /// Nobody asks for the side when the show begins, nor did so shortly before.
    bool is_false(TimeUs begins_us) const { return begins_us >= covered_until_us_; }

private:
    TimeUs covered_until_us_{0};
};

} // namespace winkhold::measure

#include "winkhold/measure/score/events.hpp"
