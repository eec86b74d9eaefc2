/// What every fuzz target holds its reader to.
#pragma once

#include "winkhold/base/error.hpp"
#include "winkhold/taps/capture/recording.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace fuzz {

/// A file in memory that holds the input for as long as this lives.
class MemoryFile {
public:
    MemoryFile(const std::uint8_t* data, std::size_t size);
    ~MemoryFile();
    MemoryFile(const MemoryFile&) = delete;
    MemoryFile& operator=(const MemoryFile&) = delete;

    const std::string& path() const { return path_; }

private:
    int file_;
    std::string path_;
};

/// Ends the program, saying why, unless `holds`.
void require(bool holds, const char* what);

/// One line that starts with the path: what a refusal must look like.
void require_one_message(const winkhold::host::InputError& error, const std::string& path);

/// Reads and decodes the input. Edges come in order of time and within range, or one message does.
void read_recording(const std::uint8_t* data, std::size_t size,
                    const winkhold::host::RecordingOptions& options);

} // namespace fuzz
