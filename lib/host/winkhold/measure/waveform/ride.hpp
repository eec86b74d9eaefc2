/// A synthetic ride: what the taps showed, and the truth beside it.
#pragma once

#include "winkhold/measure/waveform/scenario.hpp"
#include "winkhold/measure/waveform/truth.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include <cstdint>

namespace winkhold::measure {

/// The flasher of one trial: the scenario's ranges, drawn. Durations in us, before jitter.
struct Bike {
    double on_us{0};
    double dark_us{0};
    double lamp_out_on_us{0};
    double lamp_out_dark_us{0};
    double second_on_us{0}; ///< 0: there is no second rhythm
    double second_dark_us{0};
    int second_from_flash{0}; ///< as SecondRhythm has them, drawn
    int second_to_flash{0};
    int second_after_flashes{0};

    /// One flash, on and dark. Unit: us.
    double period_us() const { return on_us + dark_us; }
};

/// One bright phase of the flasher's output.
struct Light {
    core::Indication show;
    TimeUs on_us;
    TimeUs off_us;
};

/// One tap's level from `t_us` on.
struct LevelChange {
    TimeUs t_us;
    bool high;
};

/// Something planted among the usual flashes, so that nobody has to guess it from the lines.
struct Planted {
    /// What the scenario had happen.
    enum class What {
        second_rhythm, ///< a flash of it, with the dark after it
        group,         ///< a flash of a cycle, with the dark after it, unlike the one before
        missing_flash, ///< a bright phase that stays dark
        fumble,        ///< a first press of the switch
        touch,         ///< a light that nobody asks for
    };
    What what;
    TimeUs from_us;
    TimeUs to_us;
};

/// One trial of a scenario: bike, lines and truth.
struct Ride {
    Bike bike;
    Trace trace;
    Truth truth;
    std::vector<Planted> planted; ///< each kind in order of time
};

/// Makes rides. Keeps its buffers from one to the next, so one maker serves one thread.
class RideMaker {
public:
    /// For trials of this scenario, which is copied.
    explicit RideMaker(const Scenario& scenario) : scenario_(scenario) {}

    /// The ride of this trial; the same for the same scenario, seed and trial, always.
    /// The reference is good until the next call.
    const Ride& make(std::uint64_t seed, std::uint64_t trial);

private:
    friend class Flashing;
    friend class Contacts;

    const Scenario scenario_;
    Ride ride_;
    std::vector<Light> lights_;
    std::vector<LevelChange> contacts_[2];
    std::vector<LevelChange> supply_; ///< empty: up all along
};

} // namespace winkhold::measure
