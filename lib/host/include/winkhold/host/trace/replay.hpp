/// Runs a trace through the decoder: one step at each edge and at each moment the decoder asks for.
#pragma once

#include "winkhold/core/decoder.hpp"
#include "winkhold/host/trace/trace.hpp"

namespace winkhold::host {

/// Feeds a decoder from 64-bit time. `Observer` is called as observe(t_us, decoder) after every step.
class Replay {
public:
    explicit Replay(const core::Settings& settings, TimeUs clock_offset_us = 0)
        : decoder_(settings), offset_us_(clock_offset_us) {}

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

    const core::Decoder& decoder() const { return decoder_; }

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
        decoder_.step(now, lines);
        const core::Alarm wake = decoder_.wake();
        due_us_ = wake.armed ? t_us + core::elapsed_us(wake.at, now) : never_us;
        observe(t_us, decoder_);
    }

    core::Decoder decoder_;
    TimeUs offset_us_;
    TimeUs due_us_{never_us}; ///< when the decoder wants to be stepped next
    core::Lines lines_{};
};

/// Whole trace in one call.
template <class Observer>
void replay(const Trace& trace, const core::Settings& settings, Observer&& observe,
            TimeUs clock_offset_us = 0) {
    Replay run(settings, clock_offset_us);
    for (const Edge& edge : trace.edges)
        run.feed(edge, observe);
    run.finish(trace.end_us, observe);
}

} // namespace winkhold::host
