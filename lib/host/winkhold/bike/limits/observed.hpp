/// What a recording or a simulated ride shows of what is limited.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/bike/lamps/lamp_plan.hpp"
#include "winkhold/measure/waveform/ride.hpp"
#include "winkhold/taps/inspect/inspect.hpp"
#include "winkhold/taps/trace/timeline.hpp"

namespace winkhold::bike {

/// A tapped line, or all turn lamps of a side.
enum class SignalOf { line, lamps };

/// Something that flashes on one side.
struct Signal {
    SignalOf of{};
    core::Side side{};
    std::vector<SeenLight> lights; ///< in order of time

    std::string name() const; ///< "left line"
};

/// The switch asks for one thing from `start_us` to `end_us`. Never for off.
struct Asked {
    core::Indication show{};
    TimeUs start_us{0};
    TimeUs end_us{0};
};

/// One flash of one group of turn lamps.
struct LampFlash {
    std::size_t group{0};     ///< of the plan's lamps
    TimeUs start_us{0};       ///< its first lamp lights
    TimeUs end_us{0};         ///< its last lamp goes dark
    TimeUs full_us{never_us}; ///< all have been lit; never_us: the flash ended first
    bool latched{true};       ///< no lamp that was lit went dark before the last one did
    bool outward{true};       ///< none lit before one of a lower number
    bool uniform{true};       ///< steps 1 ms alike in length, and of as many lamps
    bool may_be_cut{false};   ///< the last before its side is no longer shown, or of the recording
};

/// Of lamps numbered from the middle of the vehicle outward. `lit_us`: when each lights first, never_us for
/// not at all. `dark_us`: when each first goes dark after that, or the flash's end.
LampFlash lamp_flash(const std::vector<TimeUs>& lit_us, const std::vector<TimeUs>& dark_us, TimeUs end_us);

/// One press of the brake, and a group of stop lamps.
struct StopPress {
    std::size_t group{0}; ///< of the plan's lamps
    TimeUs pressed_us{0}; ///< the tap goes high
    TimeUs released_us{0};
    TimeUs lit_us{never_us}; ///< the group is at full brightness; never_us: not before it was released
};

/// The brake's way from the switch to the edge that a press begins with.
struct BrakeTap {
    Range late_us{0}; ///< so late at any voltage from 9 to 16, with parts anywhere within their tolerance
    std::string why_not_known; ///< a clause; empty: known
};

/// Of this vehicle's [front_end]; the later of two brake taps counts.
BrakeTap brake_tap_of(const Vehicle& vehicle);

/// Everything seen in one recording or simulated ride that a limit may ask for.
struct Observed {
    std::int64_t trial{0}; ///< of a simulation
    std::vector<Signal> signals;
    std::vector<LampFlash> flashes; ///< in order of their ends
    std::vector<StopPress> presses;
    BrakeTap brake_tap;
    /// What the switch asked for, in order of time. A recording of lamp lines does not tell: none.
    std::optional<std::vector<Asked>> asked;
    TimeUs end_us{0};
    std::vector<std::string> notes; ///< what else was seen, a sentence each
};

/// Watches edges in order of time; plays them on the plan's lamps, if it has any. Memory grows with flashes
/// and presses, not with edges; throws InputError beyond most_flashes of either.
class Observer {
public:
    /// `decoder` must pass check(). Without lamps in the plan only the lines are watched.
    Observer(const LampPlan& plan, const core::Settings& decoder);
    ~Observer();
    /// The next edge. Throws InputError beyond most_flashes.
    void feed(const Edge& edge);
    /// Nothing changes up to and including `end_us`.
    Observed finish(TimeUs end_us);

private:
    struct Watched;
    std::unique_ptr<Watched> watched_;
};

/// What the switch asked for, from its changes.
std::vector<Asked> asked_in(const Timeline& switched, TimeUs end_us);
/// What the rider of a simulated ride asked for.
std::vector<Asked> asked_in(const Truth& truth);

/// The trace with a brake that is pressed and released all along, at ever other moments of the flashes; as it
/// is, if it has a brake.
Trace with_brake(const Trace& trace);

} // namespace winkhold::bike
