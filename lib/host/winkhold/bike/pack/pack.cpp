#include "winkhold/bike/pack/pack.hpp"

#include "winkhold/base/vehicle/detail/embedded_texts.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"
#include "winkhold/bike/pack/detail/texts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr std::string_view core_folder = "lib/core/";
constexpr std::string_view firmware_folder = "apps/firmware/board/";
constexpr std::string_view own_folder = "apps/firmware/selftest/";

std::string carried(std::string_view folder, std::string_view name) {
    return std::string(embedded_text(fmt::format("{}{}", folder, name)));
}

/// In a pack the core lies beside the makefile, and there is a self-test to build, too.
std::string makefile_text() {
    constexpr std::string_view core = "CORE ?= ";
    std::string text = carried(firmware_folder, "makefile");
    const std::size_t at = text.find(core) + core.size();
    text.replace(at, text.find('\n', at) - at, ".");
    return text + carried(own_folder, "selftest.mk");
}

/// `source = "..."` of the section in that file: a fit or a sweep writes it there, or somebody who knows.
std::string source_of(const Vehicle& vehicle, const std::string& field, const std::string& in_file) {
    for (const VehicleFile& file : files_of(vehicle))
        if (const toml::table* section = file.root[field.substr(0, field.find('.'))].as_table();
            file.path == in_file && section != nullptr)
            return (*section)["source"].value_or(std::string());
    return {};
}

} // namespace

std::string plain_remark(std::string_view text) {
    constexpr std::size_t most = 90;
    std::string plain;
    for (const char c : text.substr(0, most))
        plain += c < ' ' || c > '~' ? '?' : c == '\\' ? '/' : c;
    for (std::size_t at = 0; (at = plain.find("??", at)) != std::string::npos; ++at)
        plain[at] = '.';
    return plain + (text.size() > most ? " ..." : "");
}

std::string file_name(const std::string& path) {
    return plain_remark(path.substr(path.find_last_of('/') + 1));
}

std::string reason(const Vehicle& vehicle, const std::string& field) {
    const std::optional<Vehicle::Place> place = vehicle.given(field);
    if (!place)
        return field.starts_with("decoder.")
                   ? "nobody gave it: the default; winkhold/core/settings.hpp has its source"
                   : "nobody gave it: the default";
    std::string text = fmt::format("{}:{}", file_name(place->file), place->line);
    if (const std::string remark = vehicle.remark(field); !remark.empty())
        text += ", " + plain_remark(remark);
    if (const std::string source = source_of(vehicle, field, place->file); !source.empty())
        text += fmt::format("; {}", plain_remark(source));
    return text;
}

Pack pack_of(const Vehicle& vehicle, PackKind kind, const std::string& version) {
    const BoardPlan plan = board_plan_of(vehicle);
    const PackCase one{vehicle, plan, vehicle.hash(), version};
    Pack pack{one.hash, {}};
    const auto add = [&](std::string path, std::string text) {
        pack.files.push_back({std::move(path), std::move(text)});
    };
    const bool whole = kind == PackKind::firmware;
    add("bike.hpp", bike_header_text(one));
    add("README.md", whole ? sheet_text(one) : headers_sheet_text(one));
    if (whole) {
        add("makefile", makefile_text());
        add("golden.hpp", golden_text(one));
        add("selftest.cpp", carried(own_folder, "selftest.cpp"));
    } else {
        add("own_firmware.cpp", carried(own_folder, "own_firmware.cpp"));
    }
    for (const EmbeddedText& source : embedded_texts()) {
        if (source.name.starts_with(core_folder))
            add(std::string(source.name.substr(core_folder.size())), std::string(source.text));
        if (!source.name.starts_with(firmware_folder)) continue;
        const std::string name(source.name.substr(firmware_folder.size()));
        if (whole ? name != "makefile" : name == "parts.hpp") add(name, std::string(source.text));
    }
    std::sort(pack.files.begin(), pack.files.end(),
              [](const PackedFile& a, const PackedFile& b) { return a.path < b.path; });
    return pack;
}

} // namespace winkhold::bike
