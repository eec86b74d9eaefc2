#include "winkhold/measure/faults/listen.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"

#include <algorithm>
#include <utility>

namespace winkhold::measure {
namespace {

class Listener {
public:
    Listener(const core::Settings& settings, const ClockModel& clock, RandomStream& random)
        : clock_(clock), random_(random), pace_(1 + draw(clock.fast_percent, random) / 100),
          first_count_us_(clock.wraps ? -draw_us(clock.before_wrap_us, random) : 0), decoder_(settings) {}

    void feed(const Edge& edge) {
        run_until(edge.t_us - 1);
        lines_ = edge.lines;
        step(edge.t_us);
    }

    void run_until(TimeUs last_us) {
        while (due_us_ <= last_us)
            step(due_us_);
    }

    void restart(TimeUs t_us) {
        run_until(t_us - 1);
        decoder_ = core::Decoder(decoder_.settings());
        started_us_ = t_us;
        first_count_us_ = read_us_ = 0;
        show(t_us);
        step(t_us);
    }

    Heard take() { return std::move(heard_); }

private:
    void step(TimeUs t_us) {
        const core::Micros now = to_core(first_count_us_ + reading_us(t_us));
        decoder_.step(now, lines_);
        show(t_us);
        for (const core::Side side : {core::Side::left, core::Side::right})
            heard_.flags |= decoder_.faults(side);
        due_us_ = never_us;
        if (const core::Alarm wake = decoder_.wake(); wake.armed) {
            TimeUs wait_us = core::elapsed_us(wake.at, now);
            if (wait_us > clock_.wakes_early_us) wait_us -= clock_.wakes_early_us;
            due_us_ = t_us + std::max<TimeUs>(
                                 1, static_cast<TimeUs>(std::ceil(static_cast<double>(wait_us) / pace_)));
        }
    }

    TimeUs reading_us(TimeUs t_us) {
        const double passed_us = static_cast<double>(t_us - started_us_) * pace_;
        const TimeUs exact_us = static_cast<TimeUs>(passed_us) + draw_us(clock_.error_us, random_);
        read_us_ = std::max(read_us_, exact_us / clock_.tick_us * clock_.tick_us);
        return read_us_;
    }

    void show(TimeUs t_us) {
        Timeline& timeline = heard_.timeline;
        if (timeline.empty() || timeline.back().indication != decoder_.indication())
            timeline.push_back({t_us, decoder_.indication()});
    }

    const ClockModel& clock_;
    RandomStream& random_;
    double pace_;
    TimeUs first_count_us_;
    TimeUs started_us_{0};
    TimeUs read_us_{0}; ///< the last reading, since the start
    core::Decoder decoder_;
    core::Lines lines_{};
    TimeUs due_us_{never_us};
    Heard heard_;
};

} // namespace

Heard listen(const Trace& trace, const core::Settings& settings, const ClockModel& clock,
             RandomStream& random) {
    Listener listener(settings, clock, random);
    TimeUs reset_us = clock.reset_at_us.zero() ? never_us : draw_us(clock.reset_at_us, random);
    for (const Edge& edge : trace.edges) {
        if (reset_us < edge.t_us) listener.restart(std::exchange(reset_us, never_us));
        listener.feed(edge);
    }
    if (reset_us < trace.end_us) listener.restart(reset_us);
    listener.run_until(trace.end_us);
    return listener.take();
}

} // namespace winkhold::measure
