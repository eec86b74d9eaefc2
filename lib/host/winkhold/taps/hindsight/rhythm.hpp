/// How long the phases of one line last, as densities.
#pragma once

#include "winkhold/taps/hindsight/lights.hpp"

#include <span>
#include <vector>

namespace winkhold::taps {

/// Normal density of a phase's length. Unit: us.
struct PhaseLength {
    double centre_us{0};
    double spread_us{0};
};

/// One rhythm of one line. All densities are per second, all logs natural, all lengths in us and > 0.
struct Rhythm {
    PhaseLength on;
    PhaseLength dark;

    /// A light of this length with the request going on: mostly whole, else of any length (a free-running
    /// flasher's first light is cut at its beginning, a slow flasher's is longer).
    double log_light_within(double on_us) const;
    /// A request's last light: cut at a random moment if cancelled while lit, else like the others.
    double log_light_last(double on_us) const;
    /// The light has lasted this long when the recording ends.
    double log_light_open(double on_us) const;

    /// A gap within a request: one dark phase; or two with a missing flash between; or, seldom, any shorter
    /// time (a change to or from hazard, a loose contact).
    double log_gap_within(double gap_us) const;
    /// The gap has lasted this long when the recording ends, within a request.
    double log_gap_open(double gap_us) const;

    /// The chance that such a length is an ordinary one, among the cases above.
    double ordinary_light(double on_us) const;
    /// Of a gap: one dark phase, and nothing missing in it.
    double ordinary_gap(double gap_us) const;

    /// The longest gap that is still one dark phase but for a chance of 1e-6. Unit: us.
    double longest_gap_us() const;
    /// The longest light that is still one flash but for a chance of 1e-6. Unit: us.
    double longest_on_us() const;
};

/// Time from one request's last light to the next one's first on the same line: log-logistic with shape 3 and
/// median 2 s; riders seldom cancel and ask again at once (common practice, no source).
double log_gap_between(double gap_us);
/// It has lasted this long when the recording ends.
double log_gap_between_open(double gap_us);

/// Lengths and their weights, added up.
class LengthEstimate {
public:
    /// One length (us), which counts as `weight` of one; from 0 to 1.
    void add(double weight, double us);
    /// Weighted mean and deviation. `before` counts as one more phase, with a spread of at least 10 %, so
    /// that a few like phases don't claim more than they know. Never below 1 ms.
    PhaseLength over(const PhaseLength& before) const;

private:
    double weight_{0};
    double sum_us_{0};
    double squares_us_{0};
};

/// Both rhythms of both lines: [side][rhythm]. The second one is there for a lamp that fails and quickens the
/// flasher, for a hazard of another duty, and for flashes in groups.
struct Rhythms {
    std::array<std::array<Rhythm, 2>, 2> of;
    bool two{false}; ///< the second rhythm was seen; else it is a copy of the first
    std::array<bool, 2> gap_seen{false, false}; ///< the side has shown a gap below 1 s at all
};

/// Robust first guess: median and scaled MAD (1.4826: Hampel, J. Am. Stat. Assoc. 69 (1974) 383) of all
/// gaps below 1 s and of the lights before them. Two rhythms if the gaps, or else the periods, fall into two
/// groups of four or more with a factor of at least 1.2 between, unless the longer one is merely a flash
/// missing. A side that shows no gap borrows the other one's rhythm; if neither does: 85/min, 50 %.
Rhythms guess_rhythms(std::span<const LightStep> steps);

} // namespace winkhold::taps
