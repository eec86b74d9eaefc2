/// A file or standard input as bytes.
#pragma once

#include "winkhold/base/wings.hpp"

#include <array>
#include <string>
#include <string_view>

namespace winkhold::taps::capture {

/// Throws Complaint if the input can't be opened or read.
class InputFile {
public:
    /// Opens `path` ("-": standard input) and reads its first bytes.
    explicit InputFile(const std::string& path);
    ~InputFile();
    InputFile(const InputFile&) = delete;
    InputFile& operator=(const InputFile&) = delete;

    /// The first bytes, to tell the format by; read() returns them as well.
    std::string_view start() const { return {start_.data(), start_size_}; }

    /// Up to `size` bytes; 0 at the end.
    std::size_t read(char* to, std::size_t size);

    /// The file's descriptor, back at the first byte. Throws Complaint for a pipe, which can't go back.
    int rewound();

private:
    std::size_t read_more(char* to, std::size_t size);

    int file_;
    std::array<char, 32> start_{};
    std::size_t start_size_{0};
    std::size_t start_read_{0}; // how much of it read() has returned
};

} // namespace winkhold::taps::capture
