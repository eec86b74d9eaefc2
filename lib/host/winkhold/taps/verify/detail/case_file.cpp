#include "winkhold/base/vehicle/detail/decoder_fields.hpp"
#include "winkhold/base/vehicle/detail/toml_fields.hpp"
#include "winkhold/taps/verify/case.hpp"

#include <filesystem>
#include <fmt/format.h>

namespace winkhold::taps {
namespace {

namespace fs = std::filesystem;

constexpr TimeUs most_tolerance_us = 1'000'000;

void need(TomlFields& fields, std::initializer_list<const char*> names) {
    for (const char* name : names)
        if (!fields.has(name)) fields.refuse(name, fields.table(), "missing");
}

void read_provenance(TomlFields& fields, Provenance& provenance) {
    need(fields, {"origin", "source", "licence", "reason", "reasoning"});
    provenance.origin = static_cast<Origin>(fields.choice("origin", {"synthetic", "edited", "real"}));
    fields.text("source", provenance.source);
    fields.text("licence", provenance.licence);
    fields.text("reason", provenance.reason);
    fields.text("reasoning", provenance.reasoning);
}

void read_recording(TomlFields& fields, const fs::path& folder, VerifyCase& read) {
    need(fields, {"file"});
    std::string file;
    fields.text("file", file);
    if (fs::path(file).has_parent_path() || file.empty() || file == "-")
        fields.refuse("file", *fields.node("file"), "name a file in the case's own folder");
    read.recording = (folder / file).string();
    const auto name = [&](const char* key, std::optional<std::string>& value) {
        if (fields.has(key)) fields.text(key, value.emplace());
    };
    name("left", read.options.left);
    name("right", read.options.right);
    name("brake", read.options.brake);
    name("tail", read.options.tail);
    name("supply", read.options.supply);
    name("time", read.options.time);
    name("time_unit", read.options.time_unit);
    read.options.active_high = fields.choice("active", {"high", "low"}) != 1;
    fields.number("on_above", 0, 60, read.options.on_above_v);
    fields.number("off_below", 0, 60, read.options.off_below_v);
}

} // namespace

VerifyCase read_case(const std::string& folder) {
    const std::string path = (fs::path(folder) / case_file).string();
    const toml::table root = parse_toml(path);
    TomlFields sections(path, "", root);
    for (const char* section : {"provenance", "recording", "decoder", "expected"})
        sections.node(section);
    sections.done();
    for (const char* section : {"provenance", "recording"})
        if (!root.contains(section))
            throw InputError(at_line(path, 0, fmt::format("no [{}] section", section)));
    VerifyCase read;
    in_section(path, root, "provenance", [&](TomlFields& f) { read_provenance(f, read.provenance); });
    in_section(path, root, "recording", [&](TomlFields& f) { read_recording(f, folder, read); });
    in_section(path, root, "expected",
               [&](TomlFields& f) { f.duration("tolerance", most_tolerance_us, read.tolerance_us); });
    in_section(path, root, "decoder", [&](TomlFields& f) { read_decoder(f, read.settings); });
    const fs::path expected = fs::path(folder) / expected_file;
    if (fs::exists(expected)) read.expected = read_timeline_csv(expected.string());
    return read;
}

} // namespace winkhold::taps
