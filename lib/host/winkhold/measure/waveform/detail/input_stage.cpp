#include "winkhold/measure/waveform/detail/input_stage.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::measure {
namespace {

constexpr double resolution_us = 1e-3;

/// The first moment within (before, after] at which `reached` holds, if it holds from there on.
template <class Reached>
double first_us(double before_us, double after_us, Reached&& reached) {
    while (after_us - before_us > resolution_us) {
        const double middle_us = (before_us + after_us) / 2;
        (reached(middle_us) ? after_us : before_us) = middle_us;
    }
    return after_us;
}

} // namespace

InputStage::InputStage(const Design& design, double volts, const LowPass& drive)
    : design_(design), volts_(std::min(drive.gain * std::min(volts, design.saturation_v), design.clamp_v)) {
    if (volts_ > design_.on_above_v) change(0);
}

void InputStage::hold(double from_us, double to_us, double volts, const LowPass& drive) {
    run(from_us, to_us, {std::min(volts, design_.saturation_v), 0, 1}, drive);
}

void InputStage::fall(double from_us, double to_us, double volts, double toward_v, double tau_us) {
    if (volts > design_.saturation_v) { // it stays there until the line has fallen so far
        const double saturated_us =
            toward_v < design_.saturation_v
                ? tau_us * std::log((volts - toward_v) / (design_.saturation_v - toward_v))
                : to_us - from_us;
        const double until_us = std::min(to_us, from_us + saturated_us);
        hold(from_us, until_us, design_.saturation_v, design_.stiff);
        from_us = until_us;
        volts = design_.saturation_v;
    }
    run(from_us, to_us, {toward_v, volts - toward_v, tau_us}, design_.stiff);
}

InputStage::Source InputStage::Source::after(double t_us) const {
    return {end_v, slow_v * std::exp(-t_us / slow_tau_us), slow_tau_us};
}

double InputStage::Response::at(double t_us) const {
    return end_v + slow_v * std::exp(-t_us / slow_tau_us) + fast_v * std::exp(-t_us / fast_tau_us);
}

double InputStage::Response::turns_us() const {
    if (slow_v == 0 || fast_v == 0) return -1;
    const double ratio = -(fast_v * slow_tau_us) / (slow_v * fast_tau_us);
    return ratio > 0 ? std::log(ratio) / (1 / fast_tau_us - 1 / slow_tau_us) : -1;
}

InputStage::Response InputStage::response(const Source& source, const LowPass& drive) const {
    const double end_v = drive.gain * source.end_v;
    const double slow_v = drive.gain * source.slow_v;
    if (drive.tau_us <= 0) return {end_v, slow_v, source.slow_tau_us, 0, 1};
    double slow_tau_us = source.slow_tau_us;
    // equal time constants have another closed form; a hair apart, this one is right to 0.1 mV
    if (std::abs(slow_tau_us - drive.tau_us) < 1e-5 * drive.tau_us) slow_tau_us = drive.tau_us * 1.00001;
    const double part_v = slow_v * slow_tau_us / (slow_tau_us - drive.tau_us);
    return {end_v, part_v, slow_tau_us, volts_ - end_v - part_v, drive.tau_us};
}

/// Until the clamp takes over, or the stretch ends.
double InputStage::free_until_us(const Response& response, double length_us) const {
    if (design_.clamp_v == none_v) return length_us;
    const auto reached = [&](double t_us) { return response.at(t_us) >= design_.clamp_v; };
    const double turn_us = response.turns_us();
    const bool turns = turn_us > 0 && turn_us < length_us;
    if (turns && reached(turn_us)) return first_us(0, turn_us, reached);
    return reached(length_us) ? first_us(turns ? turn_us : 0, length_us, reached) : length_us;
}

/// How long the source keeps the capacitor at the clamp; 0 if it doesn't.
double InputStage::clamped_until_us(const Source& source, const LowPass& drive, double length_us) const {
    const double over_v = drive.gain * source.end_v - design_.clamp_v;
    const double slow_v = drive.gain * source.slow_v;
    if (volts_ < design_.clamp_v || over_v + slow_v <= 0) return 0;
    if (over_v >= 0) return length_us;
    return std::min(length_us, source.slow_tau_us * std::log(slow_v / -over_v));
}

void InputStage::run(double from_us, double to_us, Source source, const LowPass& drive) {
    while (from_us < to_us) {
        const double left_us = to_us - from_us;
        double length_us = clamped_until_us(source, drive, left_us);
        if (length_us < resolution_us) {
            const Response free = response(source, drive);
            length_us = std::max(free_until_us(free, left_us), std::min(left_us, resolution_us));
            cross(from_us, length_us, free);
            volts_ = std::min(free.at(length_us), design_.clamp_v);
        }
        from_us += length_us;
        source = source.after(length_us);
    }
}

void InputStage::cross(double from_us, double length_us, const Response& response) {
    const double turn_us = response.turns_us();
    if (turn_us > 0 && turn_us < length_us) {
        piece(from_us, 0, turn_us, response);
        piece(from_us, turn_us, length_us, response);
    } else {
        piece(from_us, 0, length_us, response);
    }
}

/// A stretch without a turn holds at most one crossing that matters.
void InputStage::piece(double from_us, double start_us, double stop_us, const Response& response) {
    const auto crossed = [&](double t_us) {
        return high_ ? response.at(t_us) < design_.off_below_v : response.at(t_us) > design_.on_above_v;
    };
    if (!crossed(stop_us)) return;
    change(from_us + (crossed(start_us) ? start_us : first_us(start_us, stop_us, crossed)));
}

void InputStage::change(double t_us) {
    high_ = !high_;
    auto at_us = static_cast<TimeUs>(std::ceil(t_us));
    if (!changes_.empty() && at_us <= changes_.back().t_us) at_us = changes_.back().t_us + 1;
    changes_.push_back({at_us, high_});
}

} // namespace winkhold::measure
