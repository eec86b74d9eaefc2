#include "winkhold/measure/faults/fault.hpp"

#include "winkhold/base/vehicle/detail/embedded_texts.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"
#include "winkhold/measure/waveform/detail/scenario_sections.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

namespace fs = std::filesystem;

constexpr TimeUs longest_limit_us = 60'000'000;

void limit(TomlFields& fields, std::string_view name, std::int64_t& value) {
    int read = static_cast<int>(value);
    fields.whole(name, 0, 1'000'000, read);
    value = read;
}

void limit(TomlFields& fields, std::string_view name, std::optional<TimeUs>& value_us) {
    if (fields.has(name)) fields.duration(name, longest_limit_us, value_us.emplace());
}

void read_limits(TomlFields& fields, FaultLimits& limits) {
    limit(fields, "most_dropouts", limits.most_dropouts);
    limit(fields, "most_false_shows", limits.most_false_shows);
    limit(fields, "most_missed", limits.most_missed);
    limit(fields, "longest_release", limits.longest_release_us);
    limit(fields, "longest_overlap", limits.longest_overlap_us);
    limit(fields, "longest_acquire", limits.longest_acquire_us);
    limit(fields, "longest_outage", limits.longest_outage_us);
    fields.texts("must_flag", limits.must_flag);
    fields.texts("excused_by", limits.excused_by);
    fields.flag("same_at_any_count", limits.same_at_any_count);
    if (const int side = fields.choice("only", {"left", "right"}); side >= 0)
        limits.only = side == 0 ? core::Side::left : core::Side::right;
    std::vector<std::string> never;
    fields.texts("never_show", never);
    for (const std::string& show : never) {
        constexpr std::string_view names[] = {"off", "left", "right", "hazard"};
        const auto found = std::find(std::begin(names), std::end(names), show);
        if (found == std::end(names))
            fields.refuse("never_show", *fields.node("never_show"),
                          fmt::format("\"{}\" is no indication; write off, left, right or hazard", show));
        limits.never_show.push_back(static_cast<core::Indication>(found - std::begin(names)));
    }
}

} // namespace

FaultCase fault_of(const Vehicle& vehicle) {
    const std::string& path = vehicle.path();
    FaultCase fault{.id = {}, .title = {}, .good = {}, .file = path, .variants = {}};
    FaultLimits limits;
    const toml::table& root = files_of(vehicle).back().root;
    if (!root.contains("fault"))
        throw InputError(at_line(path, 0, "no [fault] section; a fault has an id, a title and limits there"));
    refuse_decoder(path, root, "a fault; give settings as options");
    in_section(path, root, "fault", [&](TomlFields& fields) {
        fields.text("id", fault.id);
        fields.text("title", fault.title);
        fields.text("good", fault.good);
        for (const char* name : {"id", "title", "good"})
            if (!fields.has(name)) fields.refuse(name, fields.table(), "missing");
        read_limits(fields, limits);
    });
    std::size_t next = 0;
    for (Variant& variant : variants_of(vehicle)) {
        fault.variants.push_back({std::move(variant.name), std::move(variant.scenario), limits});
        if (!root.contains("variant")) continue;
        const toml::table& table = *root["variant"].as_array()->get(next++)->as_table();
        refuse_decoder(path, table, "a fault; give settings as options");
        in_section(
            path, table, "fault",
            [&](TomlFields& fields) { read_limits(fields, fault.variants.back().limits); }, "variant.fault");
    }
    return fault;
}

namespace {

std::vector<FaultCase> carried_along() {
    std::vector<FaultCase> faults;
    for (const EmbeddedText& text : embedded_texts())
        if (text.name.starts_with("faults/"))
            faults.push_back(fault_of(Vehicle::carried(fmt::format("data/{}", text.name))));
    return faults;
}

std::vector<FaultCase> of_folder(const std::string& folder) {
    std::error_code error;
    if (!fs::is_directory(folder, error))
        throw InputError(at_line(folder, 0, "no such folder; name one that holds faults as .toml files"));
    std::vector<FaultCase> faults;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ".toml")
            faults.push_back(fault_of(Vehicle::read(entry.path().string())));
    if (faults.empty()) throw InputError(at_line(folder, 0, "holds no .toml file"));
    return faults;
}

} // namespace

std::vector<FaultCase> read_faults(const std::string& folder, const std::vector<std::string>& ids) {
    std::vector<FaultCase> faults = folder.empty() ? carried_along() : of_folder(folder);
    std::sort(faults.begin(), faults.end(), [](const FaultCase& a, const FaultCase& b) {
        return std::pair(a.id.find('x') != std::string::npos, a.id) <
               std::pair(b.id.find('x') != std::string::npos, b.id); // interactions last
    });
    for (std::size_t i = 1; i < faults.size(); ++i)
        if (faults[i].id == faults[i - 1].id)
            throw InputError(at_line(faults[i].file, 0,
                                     fmt::format("id {} is also in {}", faults[i].id, faults[i - 1].file)));
    if (ids.empty()) return faults;
    for (const std::string& id : ids)
        if (std::none_of(faults.begin(), faults.end(), [&](const FaultCase& f) { return f.id == id; }))
            throw InputError(
                fmt::format("{}: no fault of that id in {}", id, folder.empty() ? "the catalogue" : folder));
    std::erase_if(faults,
                  [&](const FaultCase& f) { return std::find(ids.begin(), ids.end(), f.id) == ids.end(); });
    return faults;
}

} // namespace winkhold::measure
