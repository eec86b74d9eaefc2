/// Recordings for tests, written to a file and read back.
#pragma once

#include "temp.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/taps/capture/recording.hpp"

#include <fmt/format.h>
#include <fstream>
#include <gtest/gtest.h>
#include <initializer_list>
#include <string>
#include <string_view>

namespace capture_test {

using winkhold::core::Lines;
using winkhold::host::Edge;
using winkhold::host::RecordingOptions;
using winkhold::host::Trace;

using winkhold::testing::TempFile;

inline Trace read_file(const std::string& path, const RecordingOptions& options = {}) {
    const auto source = winkhold::host::open_recording(path, options);
    return winkhold::host::read_all(*source);
}

inline Trace read(std::string_view text, const RecordingOptions& options = {}) {
    return read_file(TempFile(text).path(), options);
}

/// What there is to know about a recording once it is read.
inline std::vector<winkhold::host::Caveat> caveats_of(std::string_view text,
                                                      const RecordingOptions& options = {}) {
    const TempFile file(text);
    const auto source = winkhold::host::open_recording(file.path(), options);
    winkhold::host::read_all(*source);
    return source->caveats();
}

/// What another program, a Python script, writes to standard output. Python's own library is a writer that
/// shares nothing with this project.
inline std::string written_by_python(const std::string& script) {
    const TempFile code(script);
    const TempFile output;
    const std::string command = fmt::format("/usr/bin/python3 '{}' >'{}'", code.path(), output.path());
    if (std::system(command.c_str()) != 0) throw std::runtime_error("failed: " + command);
    std::ifstream file(output.path(), std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// What the InputError of reading `path` says; a test failure if there is none.
inline std::string refusal_of_file(const std::string& path, const RecordingOptions& options = {}) {
    try {
        read_file(path, options);
    } catch (const winkhold::host::InputError& error) {
        return error.what();
    }
    ADD_FAILURE() << "read without an error";
    return {};
}

/// Expects that `text` is refused at `line` (0: no line is named), in words that hold all of `parts`.
inline void expect_refusal(std::string_view text, int line, std::initializer_list<std::string_view> parts,
                           const RecordingOptions& options = {}) {
    const TempFile file(text);
    const std::string message = refusal_of_file(file.path(), options);
    const std::string place = line > 0 ? fmt::format("{}:{}: ", file.path(), line) : file.path() + ": ";
    EXPECT_TRUE(message.starts_with(place)) << message << "\n  should start with " << place;
    EXPECT_EQ(message.find('\n'), message.npos) << message;
    for (const std::string_view part : parts) {
        EXPECT_NE(message.find(part), message.npos) << message << "\n  should hold: " << part;
    }
}

inline Lines lines(unsigned bits) {
    return Lines(static_cast<std::uint8_t>(bits));
}

/// Edges at those times with those bits: left 1, right 2, brake 4, tail 8, supply 16.
inline std::vector<Edge> edges(std::initializer_list<std::pair<winkhold::host::TimeUs, unsigned>> list) {
    std::vector<Edge> result;
    for (const auto& [t_us, bits] : list)
        result.push_back({t_us, lines(bits)});
    return result;
}

} // namespace capture_test

namespace winkhold::host {

inline void PrintTo(const Edge& edge, std::ostream* out) {
    *out << edge.t_us << " us: " << static_cast<unsigned>(edge.lines.bits());
}

} // namespace winkhold::host
