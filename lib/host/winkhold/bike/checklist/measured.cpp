#include "winkhold/bike/checklist/measured.hpp"

#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr double beyond_any = 1e9;

/// A day of the calendar, as ISO 8601 has it.
bool is_day(const std::string& text) {
    int year = 0, month = 0, day = 0, read = 0;
    if (text.size() != 10 || text.find_first_not_of("0123456789-") != text.npos ||
        std::sscanf(text.c_str(), "%4d-%2d-%2d%n", &year, &month, &day, &read) != 3 || read != 10)
        return false;
    return std::chrono::year_month_day(std::chrono::year(year),
                                       std::chrono::month(static_cast<unsigned>(month)),
                                       std::chrono::day(static_cast<unsigned>(day)))
        .ok();
}

/// Whoever writes an entry may be as far east as UTC+14. Empty: the file is carried along, or can't be asked.
std::string written_day(const std::string& path) {
    using namespace std::chrono;
    std::error_code error;
    const auto written = std::filesystem::last_write_time(path, error);
    if (error) return {};
    const year_month_day day(floor<days>(file_clock::to_sys(written) + hours(14)));
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                       static_cast<unsigned>(day.day()));
}

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
    fields.text("with", one.with);
    fields.text("on", one.on);
    if (!one.on.empty() && !is_day(one.on))
        fields.refuse("on", *fields.node("on"), "write a day like \"2026-03-14\"");
    fields.text("by", one.by);
    fields.text("note", one.note);
    return one;
}

} // namespace

std::vector<Measurement> measurements_of(const Vehicle& vehicle) {
    std::vector<Measurement> measured;
    std::string written; // all are in one file
    for_each_table(vehicle, "measured", [&](TomlFields& fields, const std::string& path) {
        Measurement one = read_one(fields, path);
        if (measured.empty()) written = written_day(path);
        one.written = written;
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
