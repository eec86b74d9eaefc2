/// A board's log as a file: the very bytes that came, there at once, and marks between them.
#pragma once

#include "winkhold/taps/link/board_link.hpp"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::taps {

/// Unlike every other file it grows while it is written, so that it can be read after a kill at any moment.
class BoardLog {
public:
    /// Throws InputError: the file is there already and `replace` is false; it is one that this program has
    /// read; it can't be written.
    BoardLog(const std::string& path, bool replace);
    ~BoardLog();
    BoardLog(const BoardLog&) = delete;
    BoardLog& operator=(const BoardLog&) = delete;

    /// Bytes from the port. Throws InputError if the disk is full.
    void add(std::string_view bytes);
    /// The time of the last line that told one, from the first line of this log on: that of a recording.
    TimeUs now_us() const;
    /// "# mark 12.345678 note" on a line of its own, as soon as the present line ends; `t_us` as now_us().
    void mark(std::string_view note, TimeUs t_us);

    /// As it was given.
    const std::string& path() const;
    /// So many since it was begun.
    std::int64_t marks() const;

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

/// A moment that somebody found worth it.
struct Mark {
    TimeUs t_us{0}; ///< on the log's own time
    std::string note;
    core::Settings settings; ///< in force on the board; its defaults if it never said
};

/// All marks of a log, in order. Throws InputError if it can't be read.
std::vector<Mark> read_marks(const std::string& path);

} // namespace winkhold::taps
