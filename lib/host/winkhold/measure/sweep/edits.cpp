#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/measure/sweep/report.hpp"

namespace winkhold::measure {
std::vector<FieldEdit> choice_edits(const Sweep& sweep, const core::Settings& before) {
    if (!sweep.choice.point) return {};
    const CurvePoint& chosen = sweep.curve[*sweep.choice.point];
    core::Settings settings = sweep.plan.settings;
    settings.hold_us = static_cast<core::Span>(chosen.hold_us);
    if (settings.rule == core::HoldRule::paced) settings.guard_us = static_cast<core::Span>(chosen.guard_us);
    return decoder_edits(before, settings);
}

} // namespace winkhold::measure
