/// What the rider asked for, with hindsight: a reference for recordings that have no truth beside them.
#pragma once

#include "winkhold/taps/hindsight/rhythm.hpp"
#include "winkhold/taps/trace/timeline.hpp"

namespace winkhold::taps {

/// The most likely answer to a whole recording, and how sure it is.
struct Smoothed {
    Timeline timeline;              ///< the most likely answer as a whole; the first change is at the start
    std::vector<double> confidence; ///< for each change: least posterior of its indication until the next one
    Rhythms rhythms;                ///< what the recording taught
    TimeUs start_us{0};
    TimeUs end_us{0};
    /// From here on a decoder that has seen the lights so far knows the rhythm: see gaps_known_from_us().
    TimeUs known_from_us{never_us};
};

/// A hidden semi-Markov smoother. Hidden are the indication and which of two rhythms the flasher keeps. The
/// lines' on and dark phases are seen, all of their ends are settled edges, so the chain has one step for
/// each settled edge, and a phase's length is known when its end is reached.
///
/// - A lit line is shown: what is hidden is whether a dark gap belongs to a request. Only a line that is lit
///   for over 1 s, no flash, is let go when the other side lights up after that, as the decoder does.
/// - A side that rises alone while the other one is dark speaks for a side change, against a hazard.
/// - Centres and spreads come from the recording: a robust guess, then expectation maximisation (Dempster,
///   Laird and Rubin, J. R. Stat. Soc. B 39 (1977) 1).
///
/// **An answer ends with the last light**, also if the rider cancelled in the dark after it. Every moment of
/// that dark phase looks alike; its middle would on average be nearer to the switch, but would be a guess.
/// The last light is what a recording proves, and the sweep of a recording counts release from there, too.
///
/// One missing flash is bridged; two in a row end the answer. Sides that flash by turns are not known as a
/// hazard for sure, and a chopped line needs its PWM gap, here as in the decoder.
///
/// It begins where the first light's level begins to stand: after its bounce, but without the settle time.
/// Memory: 16 bytes for each light, and about 110 for each settled edge while it works.
class Smoother {
public:
    /// Settles lines by these settings, which must pass check().
    explicit Smoother(const core::Settings& settings);

    /// Edges in order of time.
    void feed(const Edge& edge);
    /// Nothing changes up to and including `end_us`. Ends the recording.
    Smoothed finish(TimeUs end_us);

private:
    LightCollector lights_;
    TimeUs skew_us_;
    TimeUs start_us_{-1};
};

/// Whole trace in one call.
Smoothed smooth(const Trace& trace, const core::Settings& settings);

/// How far apart a hazard's two sides may rise: the handover window, or the default one if that is off.
TimeUs hazard_skew_us(const core::Settings& settings);

} // namespace winkhold::taps
