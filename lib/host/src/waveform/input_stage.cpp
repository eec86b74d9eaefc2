#include "waveform/input_stage.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::host {

InputStage::InputStage(const Design& design, double volts)
    : design_(design), volts_(std::min(volts, design.clamp_v)) {
    if (volts_ > design_.on_above_v) change(0);
}

void InputStage::hold(double from_us, double to_us, double volts) {
    const double end_v = std::min(volts, design_.clamp_v);
    const double tau_us = design_.filter_tau_us;
    run(from_us, to_us, {end_v, 0, 1, tau_us > 0 ? volts_ - end_v : 0, tau_us > 0 ? tau_us : 1});
}

void InputStage::fall(double from_us, double to_us, double volts, double toward_v, double tau_us) {
    if (volts > design_.clamp_v) { // it stays clamped until it has fallen so far
        const double clamped_us = toward_v < design_.clamp_v
                                      ? tau_us * std::log((volts - toward_v) / (design_.clamp_v - toward_v))
                                      : to_us - from_us;
        const double unclamped_us = std::min(to_us, from_us + clamped_us);
        hold(from_us, unclamped_us, design_.clamp_v);
        from_us = unclamped_us;
        volts = design_.clamp_v;
    }
    if (from_us >= to_us) return;
    const double fast_tau_us = design_.filter_tau_us;
    if (fast_tau_us <= 0) return run(from_us, to_us, {toward_v, volts - toward_v, tau_us, 0, 1});
    // equal time constants have another closed form; a hair apart, this one is right to 0.1 mV
    if (std::abs(tau_us - fast_tau_us) < 1e-5 * fast_tau_us) tau_us = fast_tau_us * 1.00001;
    // v' = (u - v) / fast, u = toward + (volts - toward) exp(-t / slow)
    const double slow_v = (volts - toward_v) * tau_us / (tau_us - fast_tau_us);
    run(from_us, to_us, {toward_v, slow_v, tau_us, volts_ - toward_v - slow_v, fast_tau_us});
}

double InputStage::Response::at(double t_us) const {
    return end_v + slow_v * std::exp(-t_us / slow_tau_us) + fast_v * std::exp(-t_us / fast_tau_us);
}

double InputStage::Response::turns_us() const {
    if (slow_v == 0 || fast_v == 0) return -1;
    const double ratio = -(fast_v * slow_tau_us) / (slow_v * fast_tau_us);
    return ratio > 0 ? std::log(ratio) / (1 / fast_tau_us - 1 / slow_tau_us) : -1;
}

void InputStage::run(double from_us, double to_us, const Response& response) {
    const double length_us = to_us - from_us;
    if (length_us <= 0) return;
    const double turn_us = response.turns_us();
    if (turn_us > 0 && turn_us < length_us) {
        piece(from_us, 0, turn_us, response);
        piece(from_us, turn_us, length_us, response);
    } else {
        piece(from_us, 0, length_us, response);
    }
    volts_ = response.at(length_us);
}

/// A stretch without a turn holds at most one crossing that matters.
void InputStage::piece(double from_us, double start_us, double stop_us, const Response& response) {
    const auto crossed = [&](double t_us) {
        return high_ ? response.at(t_us) < design_.off_below_v : response.at(t_us) > design_.on_above_v;
    };
    if (!crossed(stop_us)) return;
    if (crossed(start_us)) return change(from_us + start_us);
    double before_us = start_us;
    double after_us = stop_us;
    while (after_us - before_us > 1e-3) {
        const double middle_us = (before_us + after_us) / 2;
        (crossed(middle_us) ? after_us : before_us) = middle_us;
    }
    change(from_us + after_us);
}

void InputStage::change(double t_us) {
    high_ = !high_;
    auto at_us = static_cast<TimeUs>(std::ceil(t_us));
    if (!changes_.empty() && at_us <= changes_.back().t_us) at_us = changes_.back().t_us + 1;
    changes_.push_back({at_us, high_});
}

} // namespace winkhold::host
