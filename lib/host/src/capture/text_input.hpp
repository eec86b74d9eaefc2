/// A text file or standard input, in blocks of whole lines.
#pragma once

#include <string>
#include <vector>

namespace winkhold::host::capture {

/// Reads ahead by a fixed amount, so that memory stays flat however long the input is. A line may be as long
/// as `longest_line`. Throws Complaint if the input can't be read.
class TextInput {
public:
    static constexpr std::size_t longest_line = std::size_t{1} << 20;

    /// Opens `path` ("-": standard input) and reads the first block, behind a byte order mark if there is
    /// one.
    explicit TextInput(const std::string& path);
    ~TextInput();
    TextInput(const TextInput&) = delete;
    TextInput& operator=(const TextInput&) = delete;

    /// The lines at hand. Each ends in '\n', which is added to a last line without one, so that a scan for
    /// the end of a line needs no other bound; `overscan` bytes behind end() may be read, too.
    const char* begin() const { return begin_; }
    const char* end() const { return end_; }
    static constexpr std::size_t overscan = 8;

    /// Keeps the lines from `keep` on and reads more behind them; false at the end of the input. All pointers
    /// into the old block end here.
    bool refill(const char* keep);

private:
    explicit TextInput(int file);
    std::size_t read_chunk();

    int file_;
    std::vector<char> buffer_;
    const char* begin_; // first byte kept
    const char* end_;   // end of the last whole line
    char* filled_;      // end of the bytes read
};

} // namespace winkhold::host::capture
