/// The demo bike with every point of its checklist measured and good, for tests that break one thing.
#pragma once

#include "program/run.hpp"
#include "winkhold/bike/checklist/checklist.hpp"

#include <fmt/format.h>
#include <string>
#include <vector>

namespace winkhold::testing {

inline std::string demo_text() {
    std::ifstream file(WINKHOLD_SOURCE "/data/vehicles/demo.toml", std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

inline host::Checklist checklist_of_text(const std::string& text) {
    const Scratch scratch;
    return host::checklist_of(host::Vehicle::read(scratch.write("bike.toml", text)), "winkhold 0.0.0");
}

inline host::Verdict verdict(const std::string& text) {
    return checklist_of_text(text).readiness.verdict();
}

inline const std::string signature = "with = \"meter and eyes\"\non = \"2026-03-14\"\n";

inline std::string entry(const std::string& id, const std::string& answer,
                         const std::string& signed_by = signature) {
    return fmt::format("\n[[measured]]\nwhat = \"{}\"\n{}\n{}", id, answer, signed_by);
}

/// Done, or in the middle of its limits.
inline std::string good_answer(const host::CheckPoint& point) {
    if (point.is_yes_or_no())
        return point.needs_note ? "done = true\nnote = \"as it ought to be\"" : "done = true";
    return fmt::format("value = {}", (point.least.value_or(0) + point.most.value_or(0)) / 2);
}

/// A bike's own points, all measured and good.
inline std::string all_measured(const std::string& bike) {
    std::string text = bike;
    for (const host::PointRecord& record : checklist_of_text(bike).points)
        text += entry(record.point.id, good_answer(record.point));
    return text;
}

inline const std::string& ready_text() {
    static const std::string text = all_measured(demo_text());
    return text;
}

/// What stands there once is replaced. `after`: look for it behind this.
inline std::string ready_with(const std::string& from, const std::string& to, const std::string& after = "") {
    std::string text = ready_text();
    const std::size_t begin = after.empty() ? 0 : text.find(after);
    const std::size_t at = begin == text.npos ? text.npos : text.find(from, begin);
    if (at == text.npos) throw std::logic_error("\"" + from + "\" doesn't stand in the demo's file");
    return text.replace(at, from.size(), to);
}

} // namespace winkhold::testing
