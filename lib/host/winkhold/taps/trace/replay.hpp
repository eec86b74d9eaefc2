/// Runs a trace through the decoder or a whole board: one step at each edge and at each moment it asks for.
#pragma once

#include "winkhold/core/decoder.hpp"
#include "winkhold/taps/trace/trace.hpp"

namespace winkhold::taps {

/// Feeds a Machine, one with step(now, lines) and wake(), from 64-bit time. `Observer` is called as
/// observe(t_us, machine) after every step.
template <class Machine>
class ReplayOf {
public:
    /// `from`: a machine, or what one is made from, as a decoder is from its settings.
    template <class From>
    explicit ReplayOf(const From& from, TimeUs clock_offset_us = 0)
        : machine_(from), offset_us_(clock_offset_us) {}

    /// Takes the levels from `edge.t_us` on, after everything that falls due before.
    template <class Observer>
    void feed(const Edge& edge, Observer&& observe) {
        run_until(edge.t_us - 1, observe);
        step(edge.t_us, edge.lines, observe);
    }

    /// Nothing changes up to and including `end_us`.
    template <class Observer>
    void finish(TimeUs end_us, Observer&& observe) {
        run_until(end_us, observe);
    }

    /// Goes on with other settings from now on, as core::Decoder::retune() does.
    void retune(const core::Settings& settings) { machine_.retune(settings); }

    /// As the last step left it.
    const Machine& machine() const { return machine_; }

private:
    template <class Observer>
    void run_until(TimeUs last_us, Observer& observe) {
        while (due_us_ <= last_us)
            step(due_us_, lines_, observe);
    }

    template <class Observer>
    void step(TimeUs t_us, core::Lines lines, Observer& observe) {
        const core::Micros now = to_core(t_us + offset_us_);
        lines_ = lines;
        machine_.step(now, lines);
        const core::Alarm wake = machine_.wake();
        due_us_ = wake.armed ? t_us + core::elapsed_us(wake.at, now) : never_us;
        observe(t_us, machine_);
    }

    Machine machine_;
    TimeUs offset_us_;
    TimeUs due_us_{never_us}; ///< when the machine wants to be stepped next
    core::Lines lines_{};
};

/// Feeds a decoder.
using Replay = ReplayOf<core::Decoder>;

/// Whole trace in one call.
template <class Observer>
void replay(const Trace& trace, const core::Settings& settings, Observer&& observe,
            TimeUs clock_offset_us = 0) {
    Replay run(settings, clock_offset_us);
    for (const Edge& edge : trace.edges)
        run.feed(edge, observe);
    run.finish(trace.end_us, observe);
}

} // namespace winkhold::taps
