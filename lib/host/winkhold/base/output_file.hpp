/// The one way in which files are written. What was there before is lost in no case that nobody asked for.
#pragma once

#include "winkhold/base/error.hpp"

#include <iosfwd>
#include <memory>
#include <string>

namespace winkhold::base {

/// A file that appears whole, or not at all: what is written stands beside it under another name until
/// finish(), and is gone if finish() is never reached. A link is followed, permissions are kept. A device or
/// a pipe is written as it comes.
class OutputFile {
public:
    /// What may be there already.
    enum class Over {
        nothing,
        another, ///< any file that this program has not read
        itself,  ///< the very file that was read, after a change to it
    };

    /// Throws InputError: there is a file that may not be; its folder is missing or can't be written to; it
    /// is a folder.
    OutputFile(const std::string& path, Over over);
    /// `replace`: as if over `another`, else over `nothing`.
    OutputFile(const std::string& path, bool replace)
        : OutputFile(path, replace ? Over::another : Over::nothing) {}
    ~OutputFile();
    OutputFile(const OutputFile&) = delete;
    OutputFile& operator=(const OutputFile&) = delete;

    /// What is written here is in the file after finish().
    std::ostream& stream();
    /// Puts the file in its place. Throws InputError: it was read by this program (a recording, a vehicle
    /// file or one of those it builds on, standard input); the disk is full; somebody else has made the file
    /// meanwhile.
    void finish();

private:
    struct Writing;
    std::unique_ptr<Writing> writing_;
};

} // namespace winkhold::base
