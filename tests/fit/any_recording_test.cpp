// Whatever the edges: an inspection and a fit give figures or say why not.
#include "support.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/measure/fit/report.hpp"
#include "winkhold/taps/inspect/report.hpp"

#include <cmath>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;

/// Steps from microseconds to hours, levels at random.
host::Trace any_trace() {
    host::Trace trace;
    host::TimeUs t_us = *rc::gen::element<host::TimeUs>(0, 1, 315'000'000'000'000);
    const auto count = *rc::gen::inRange(0, 200);
    for (int i = 0; i < count; ++i) {
        trace.edges.push_back({t_us, core::Lines(*rc::gen::inRange<std::uint8_t>(0, 32))});
        const auto unit_us = *rc::gen::element<host::TimeUs>(1, 1'000, 30'000, 350'000, 3'600'000'000);
        t_us += unit_us * *rc::gen::inRange<host::TimeUs>(0, 3);
    }
    trace.end_us = t_us;
    return trace;
}

RC_GTEST_PROP(AnyRecording, IsInspectedAndFittedOrRefused, ()) {
    const host::Inspection seen = inspected(any_trace());
    RC_ASSERT(seen.settle.us >= 5'000 && seen.settle.us <= 20'000);
    RC_ASSERT(seen.pwm_gap.us >= 0 && seen.pwm_gap.us <= host::unrest_us);
    RC_ASSERT(seen.hold.us > 0 && seen.hold.us <= core::Settings{}.hold_us);
    for (const host::LineView& line : seen.lines)
        for (const host::SeenLight& light : line.lights) {
            RC_ASSERT(light.lit_us() > 0 || light.from_start);
            RC_ASSERT(light.off_us <= light.last_high_us);
        }
    RC_ASSERT(!host::inspect_json(seen).empty());
    RC_ASSERT(!host::inspect_text(seen, "any").empty());
    try {
        const host::BikeFit fit = host::fit_bike(seen, "any");
        for (const host::Estimate& e :
             {fit.rhythm.period_us, fit.rhythm.duty_percent, fit.rhythm.jitter_percent,
              fit.rhythm.drift_percent_per_min, fit.rhythm.rate_per_min}) {
            RC_ASSERT(std::isfinite(e.value) && std::isfinite(e.low) && std::isfinite(e.high));
            RC_ASSERT(e.low <= e.value && e.value <= e.high);
        }
        RC_ASSERT(!host::fit_json(fit, "any").empty());
        RC_ASSERT(!host::fit_scenario(fit, "any", host::Unsure::cautious).empty());
    } catch (const host::InputError& error) {
        RC_ASSERT(std::string(error.what()).find("no rhythm to fit") != std::string::npos);
    }
}

} // namespace
