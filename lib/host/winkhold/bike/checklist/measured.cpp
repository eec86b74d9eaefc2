#include "winkhold/bike/checklist/measured.hpp"

#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr double beyond_any = 1e9;

Measurement read_one(TomlFields& fields, const std::string& path) {
    Measurement one;
    one.where = fmt::format("{}:{}", path, fields.table().source().begin.line);
    fields.text("what", one.what);
    if (one.what.empty())
        fields.refuse("what", fields.table(), "missing; write an id that winkhold checklist lists");
    fields.number("value", -beyond_any, beyond_any, one.value);
    if (fields.has("done")) fields.flag("done", one.done.emplace());
    if (one.value.has_value() == one.done.has_value())
        fields.refuse("value", fields.table(),
                      "write either value = a number, or done = true or false for a point of yes or no");
    fields.number("least", -beyond_any, beyond_any, one.least);
    fields.number("most", -beyond_any, beyond_any, one.most);
    if (one.least && one.most && *one.least > *one.most)
        fields.refuse("least", *fields.node("least"), "is above most");
    fields.text("unit", one.unit);
    fields.text("on", one.on);
    fields.text("by", one.by);
    fields.text("note", one.note);
    return one;
}

} // namespace

std::vector<Measurement> measurements_of(const Vehicle& vehicle) {
    std::vector<Measurement> measured;
    for_each_table(vehicle, "measured", [&](TomlFields& fields, const std::string& path) {
        Measurement one = read_one(fields, path);
        for (const Measurement& before : measured)
            if (before.what == one.what)
                fields.refuse(
                    "what", *fields.node("what"),
                    fmt::format("\"{}\" is measured twice ({}); keep the newer one", one.what, before.where));
        measured.push_back(std::move(one));
    });
    return measured;
}

} // namespace winkhold::bike
