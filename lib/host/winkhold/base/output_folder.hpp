/// The one way in which folders of files are written: whole, or not at all.
#pragma once

#include "winkhold/base/error.hpp"

#include <string>
#include <string_view>

namespace winkhold::base {

/// A folder that appears with all its files, or not at all. Until finish() it stands beside its place under
/// another name, and it is gone if finish() is never reached. Nothing of anybody's is ever replaced.
class OutputFolder {
public:
    /// Throws InputError: there is something of that name, other than an empty folder; the folder that it
    /// goes to is missing or can't be written to.
    explicit OutputFolder(const std::string& path);
    ~OutputFolder();
    OutputFolder(const OutputFolder&) = delete;
    OutputFolder& operator=(const OutputFolder&) = delete;

    /// `name` may lie in folders within it, with '/'. Throws InputError: the disk is full.
    void add(const std::string& name, std::string_view text);
    /// Puts the folder in its place. Throws InputError: somebody else has put something there meanwhile.
    void finish();

private:
    std::string path_;      ///< as it was given
    std::string target_;    ///< behind a link, and without a '/' at its end
    std::string temporary_; ///< empty: finished
};

} // namespace winkhold::base
