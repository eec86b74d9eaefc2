/// A text file or standard input, in blocks of whole lines.
#pragma once

#include "winkhold/base/wings.hpp"
#include "winkhold/taps/capture/detail/input_file.hpp"

#include <memory>

namespace winkhold::taps::capture {

/// Reads ahead by a fixed amount, and by more only where a line is longer than that, up to `longest_line`: so
/// memory stays flat however long the input is. Throws Complaint if the input can't be read.
class TextInput {
public:
    static constexpr std::size_t longest_line = std::size_t{1} << 20;

    /// Reads the first block, behind a byte order mark if there is one.
    explicit TextInput(std::unique_ptr<InputFile> file);

    /// The lines at hand. Each ends in '\n', which is added to a last line without one, so that a scan for
    /// the end of a line needs no other bound; `overscan` bytes behind end() may be read, too.
    const char* begin() const { return begin_; }
    const char* end() const { return end_; }
    static constexpr std::size_t overscan = 24;

    /// Keeps the lines from `keep` on and reads more behind them; false at the end of the input. All pointers
    /// into the old block end here.
    bool refill(const char* keep);

private:
    void make_room();

    std::unique_ptr<InputFile> file_;
    std::size_t room_; // for text, in the buffer
    std::unique_ptr<char[]> buffer_;
    const char* begin_; // first byte kept
    const char* end_;   // end of the last whole line
    char* filled_;      // end of the bytes read
};

} // namespace winkhold::taps::capture
