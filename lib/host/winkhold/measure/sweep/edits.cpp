#include "winkhold/base/settings_text.hpp"
#include "winkhold/measure/sweep/report.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

/// As it is typed: "40ms", not "40 ms".
std::string typed(std::string value) {
    value.erase(std::remove(value.begin(), value.end(), ' '), value.end());
    return fmt::format("\"{}\"", value);
}

} // namespace

std::vector<FieldEdit> choice_edits(const Sweep& sweep, const core::Settings& before) {
    std::vector<FieldEdit> edits;
    if (!sweep.choice.point) return edits;
    const CurvePoint& chosen = sweep.curve[*sweep.choice.point];
    core::Settings settings = sweep.plan.settings;
    settings.hold_us = static_cast<core::Span>(chosen.hold_us);
    if (settings.rule == core::HoldRule::paced) settings.guard_us = static_cast<core::Span>(chosen.guard_us);
    for (const NamedSetting& named : named_settings)
        if (value_text(settings, named.name) != value_text(before, named.name))
            edits.push_back({"decoder", std::string(named.name), typed(value_text(settings, named.name))});
    return edits;
}

} // namespace winkhold::measure
