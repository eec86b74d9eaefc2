/// The board's firmware, built from its sources as a user would.
#pragma once

#include "temp.hpp"

#include <cstdlib>
#include <sstream>
#include <stdexcept>
#include <utility>
#include <vector>

namespace winkhold::testing {

/// `make` in a folder with the firmware's sources, into `out`. Throws what it printed if it fails.
inline std::string build_board(const std::string& sources, const std::string& out) {
    const std::string command = fmt::format("make -s -C '{}' CORE='{}/lib/core' OUT='{}' > '{}/log' 2>&1",
                                            sources, WINKHOLD_SOURCE, out, out);
    if (std::system(command.c_str()) == 0) return out + "/board.elf";
    std::ifstream log(out + "/log");
    throw std::runtime_error({std::istreambuf_iterator<char>(log), {}});
}

/// The demo bike's. ctest has built it already (firmware.board_builds).
inline const std::string& board_elf() {
    static const std::string elf = build_board(WINKHOLD_SOURCE "/apps/firmware/board", WINKHOLD_BOARD);
    return elf;
}

/// What a shell command prints; throws if it fails.
inline std::string printed_by(const std::string& command) {
    const TempFolder folder;
    if (std::system((command + " > '" + folder.path("out") + "'").c_str()) != 0)
        throw std::runtime_error("failed: " + command);
    return folder.read("out");
}

/// Where a function or variable of the firmware is: the one whose demangled name ends so.
inline unsigned address_in_board(const std::string& name) {
    std::istringstream lines(printed_by("avr-nm -C '" + board_elf() + "'"));
    for (std::string line; std::getline(lines, line);) {
        const std::string full = line.substr(
            0,
            line.find('(', line.find("namespace)") == std::string::npos ? 11 : line.find("namespace)") + 10));
        if (full.ends_with("::" + name))
            return static_cast<unsigned>(std::stoul(line.substr(0, 8), nullptr, 16) & 0xffff);
    }
    throw std::logic_error("the firmware has no " + name);
}

/// Another bike's: the same sources, with each first text in bike.hpp replaced by the second. Good as long as
/// the folder is.
inline std::string other_bike_elf(const TempFolder& folder,
                                  const std::vector<std::pair<std::string, std::string>>& changes) {
    namespace fs = std::filesystem;
    fs::copy(WINKHOLD_SOURCE "/apps/firmware/board", folder.path(), fs::copy_options::recursive);
    std::string bike = folder.read("bike.hpp");
    for (const auto& [text, changed] : changes) {
        const std::size_t at = bike.find(text);
        if (at == std::string::npos) throw std::logic_error("bike.hpp has no '" + text + "'");
        bike.replace(at, text.size(), changed);
    }
    folder.write("bike.hpp", bike);
    return build_board(folder.path(), folder.path());
}

} // namespace winkhold::testing
