#include "file_kind.hpp"

#include <array>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <regex>

namespace winkhold::app {
namespace {

enum class Kind { neither, recording, vehicle };

/// The first line that says anything; a recorder log's says it behind a '#'.
std::string first_line(const std::string& text) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        std::string line = text.substr(at, end - at);
        at = end + 1;
        if (line.ends_with('\r')) line.pop_back();
        const std::size_t word = line.find_first_not_of(" \t");
        if (word != std::string::npos && (line[word] != '#' || line.starts_with("# winkhold recorder")))
            return line;
    }
    return "";
}

Kind kind_by_content(const std::string& path) {
    std::array<char, 4096> start{};
    std::ifstream file(path, std::ios::binary);
    file.read(start.data(), start.size());
    const std::string text(start.data(), static_cast<std::size_t>(file.gcount()));
    const std::string line = first_line(text).substr(0, 200);
    static const std::regex recording(R"(RIFF.*|\s*\$(date|version|comment|timescale|scope|var)\b.*)"
                                      R"(|# winkhold recorder.*|.*\btime_(us|ms|s)\b\s*"?\s*[,;].*)");
    static const std::regex vehicle(R"(\s*\[\[?\s*[A-Za-z_]\w*(\.\w+)*\s*\]\]?\s*(#.*)?|\s*\w+\s*=\s*\S.*)");
    if (text.starts_with("RIFF") || std::regex_match(line, recording)) return Kind::recording;
    return std::regex_match(line, vehicle) ? Kind::vehicle : Kind::neither;
}

Kind kind_of(const std::string& path) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) return Kind::neither;
    if (const Kind kind = kind_by_content(path); kind != Kind::neither) return kind;
    if (path.ends_with(".toml")) return Kind::vehicle;
    for (const char* ending : {".csv", ".vcd", ".wav"})
        if (path.ends_with(ending)) return Kind::recording;
    return Kind::neither;
}

std::string told(Reads expected, const std::string& path) {
    const Kind kind = kind_of(path);
    if (expected == Reads::recording && kind == Kind::vehicle)
        return fmt::format(
            "{0}: is a vehicle file, not a recording; try: winkhold simulate {0} --out ride.csv", path);
    if (expected == Reads::vehicle && kind == Kind::recording)
        return fmt::format(
            "{0}: is a recording, not a vehicle file; winkhold fit {0} --out bike.toml makes one", path);
    if (expected == Reads::either && kind == Kind::vehicle && !path.ends_with(".toml"))
        return fmt::format("{}: is a vehicle file; it is read as one if its name ends in .toml", path);
    if (expected == Reads::either && kind == Kind::recording && path.ends_with(".toml"))
        return fmt::format("{}: is a recording; it is read as one if its name doesn't end in .toml", path);
    return "";
}

} // namespace

std::string tell_other_kind(const Command& command) {
    for (const auto* declared : {&command.arguments, &command.options})
        for (const Option& option : *declared)
            if (option.reads != Reads::nothing_special)
                if (std::string told_kind = told(option.reads, *std::get<std::string*>(option.target));
                    !told_kind.empty())
                    return told_kind;
    return "";
}

} // namespace winkhold::app
