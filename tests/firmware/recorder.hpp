/// Builds the recorder and runs it in a simulated ATmega328P, with a value change dump driving its pins.
#pragma once

#include "program/run.hpp"

#include <fmt/format.h>
#include <iterator>
#include <sstream>
#include <vector>

namespace winkhold::testing {

/// The levels of the four taps from `t_us` on, counted from power-up.
struct PinChange {
    long long t_us;
    unsigned taps;
};

/// One line of the log, read apart from the host's own reader.
struct LogLine {
    char kind; ///< 'e' edge, 'h' heartbeat, 'o' lost
    unsigned long long value;
    unsigned taps;
};

struct Log {
    std::string header;
    std::vector<LogLine> lines;

    std::vector<LogLine> of(char kind) const {
        std::vector<LogLine> some;
        for (const LogLine& line : lines)
            if (line.kind == kind) some.push_back(line);
        return some;
    }
};

/// The simulator prints each line in colour, with '.' for the line feed, and ends at the dump's last change.
inline Log read_log(const std::string& printed) {
    Log log;
    std::istringstream in(printed);
    for (std::string line; std::getline(in, line);) {
        for (std::size_t at = 0; (at = line.find('\x1b')) != std::string::npos;)
            line.erase(at, line.find('m', at) - at + 1);
        if (!line.ends_with('.')) continue;
        line.pop_back();
        if (log.header.empty()) {
            log.header = line;
            continue;
        }
        std::istringstream words(line);
        LogLine read{'e', 0, 0};
        if (line[0] == 'h' || line[0] == 'o') words >> read.kind;
        words >> read.value;
        if (read.kind != 'o') words >> std::hex >> read.taps;
        EXPECT_TRUE(words && words.get() == EOF) << "not a line of the log: " << line;
        log.lines.push_back(read);
    }
    return log;
}

/// As the recorder's UART gives it.
inline std::string as_text(const Log& log) {
    std::string text = log.header + "\n";
    for (const LogLine& line : log.lines) {
        if (line.kind == 'o')
            text += fmt::format("o {}\n", line.value);
        else
            text += fmt::format("{}{} {:02x}\n", line.kind == 'h' ? "h " : "", line.value, line.taps);
    }
    return text;
}

/// Everything the recorder writes until `end_us`.
inline Log record(const Scratch& scratch, const std::vector<PinChange>& changes, long long end_us) {
    std::string dump = "$timescale 1us $end\n$scope module pins $end\n";
    for (int tap = 0; tap < 4; ++tap)
        dump += fmt::format("$var wire 1 {} iogC_{} $end\n", "abcd"[tap], tap);
    dump += "$var wire 1 z iogB_0 $end\n$upscope $end\n$enddefinitions $end\n#0\n0a\n0b\n0c\n0d\n0z\n";
    unsigned before = 0;
    for (const PinChange& change : changes) {
        dump += fmt::format("#{}\n", change.t_us);
        for (unsigned tap = 0; tap < 4; ++tap)
            if (((before ^ change.taps) >> tap & 1) != 0)
                dump += fmt::format("{}{}\n", change.taps >> tap & 1, "abcd"[tap]);
        before = change.taps;
    }
    dump += fmt::format("#{}\n1z\n", end_us);
    scratch.write("pins.vcd", dump);
    const std::string command =
        fmt::format("cd '{}' && bash '{}/apps/firmware/recorder/build.sh' > size 2> log && "
                    "timeout 300 simavr -m atmega328p -f 16000000 --input pins.vcd recorder.elf > log 2>&1",
                    scratch.path(""), WINKHOLD_SOURCE);
    EXPECT_EQ(std::system(command.c_str()), 0) << scratch.read("log");
    return read_log(scratch.read("log"));
}

} // namespace winkhold::testing
