#include "winkhold/base/output_file.hpp"

#include "winkhold/base/detail/descriptor_buffer.hpp"
#include "winkhold/base/detail/open_input.hpp"
#include "winkhold/base/detail/written_beside.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <ostream>
#include <sys/stat.h>
#include <unistd.h>

namespace winkhold::base {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw InputError(at_line(path, 0, why));
}

/// Where a link leads, also to a file that isn't there yet.
fs::path followed(const std::string& path) {
    fs::path at = path;
    std::error_code error;
    for (int links = 0; links < 40 && fs::is_symlink(fs::symlink_status(at, error)); ++links) {
        const fs::path to = fs::read_symlink(at, error);
        at = to.is_absolute() ? to : at.parent_path() / to;
    }
    return at;
}

} // namespace

struct OutputFile::Writing {
    std::string path;      ///< as it was given
    std::string target;    ///< behind links
    std::string temporary; ///< empty: written as it comes
    Over over;
    int descriptor;
    std::unique_ptr<DescriptorBuffer> buffer;
    std::unique_ptr<std::ostream> stream;

    ~Writing() {
        stream.reset();
        buffer.reset();
        if (descriptor >= 0) ::close(descriptor);
        if (!temporary.empty()) ::unlink(temporary.c_str());
    }
};

OutputFile::OutputFile(const std::string& path, Over over)
    : writing_(new Writing{path, followed(path).string(), {}, over, -1, nullptr, nullptr}) {
    Writing& writing = *writing_;
    struct stat there {};
    const bool exists = ::stat(writing.target.c_str(), &there) == 0;
    if (exists && S_ISDIR(there.st_mode)) refuse(path, "is a folder; name a file in it");
    if (exists && S_ISREG(there.st_mode)) {
        if (over != Over::itself && was_read(writing.target))
            refuse(path, "is what is being read; choose another name to write to");
        if (over == Over::nothing)
            refuse(path, "is there already; choose another name, or --force to replace it");
    }
    if (exists && !S_ISREG(there.st_mode)) {
        // a pipe that nobody reads would keep us in open() for good
        writing.descriptor = ::open(writing.target.c_str(), O_WRONLY | O_CLOEXEC | O_NONBLOCK);
        if (writing.descriptor < 0 && errno == ENXIO) refuse(path, "is a pipe, and nobody reads from it");
        if (writing.descriptor < 0) refuse(path, fmt::format("can't be written: {}", std::strerror(errno)));
        ::fcntl(writing.descriptor, F_SETFL, ::fcntl(writing.descriptor, F_GETFL) & ~O_NONBLOCK);
    } else {
        if (exists && ::access(writing.target.c_str(), W_OK) != 0)
            refuse(path, fmt::format("can't be written: {}", std::strerror(errno)));
        std::string name = name_beside(writing.target);
        writing.descriptor = ::mkostemp(name.data(), O_CLOEXEC);
        if (writing.descriptor < 0)
            refuse(path, fmt::format("can't be written: {}; does its folder exist?", std::strerror(errno)));
        writing.temporary = name;
        ::fchmod(writing.descriptor, exists ? there.st_mode & 07777 : 0666 & ~masked_permissions());
    }
    writing.buffer = std::make_unique<DescriptorBuffer>(writing.descriptor);
    writing.stream = std::make_unique<std::ostream>(writing.buffer.get());
}

OutputFile::~OutputFile() = default;

std::ostream& OutputFile::stream() {
    return *writing_->stream;
}

void OutputFile::finish() {
    Writing& writing = *writing_;
    const auto full = [&] { refuse(writing.path, "writing failed; is the disk full?"); };
    writing.stream->flush();
    if (!*writing.stream) full();
    if (writing.temporary.empty()) return;
    if (::fsync(writing.descriptor) != 0) full();
    if (writing.over != Over::itself && was_read(writing.target))
        refuse(writing.path, "is one of the files that were read; choose another name to write to");
    const char* const from = writing.temporary.c_str();
    const char* const to = writing.target.c_str();
    int failed = writing.over != Over::nothing ? ::rename(from, to)
                                               : ::renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE);
    if (failed == 0)
        writing.temporary.clear();
    else if (writing.over == Over::nothing && (errno == EINVAL || errno == ENOSYS))
        failed =
            ::link(from, to); // a file system that can't do both in one step; the other name goes with us
    if (failed != 0 && errno == EEXIST)
        refuse(writing.path, "is there already; choose another name, or --force to replace it");
    if (failed != 0) refuse(writing.path, fmt::format("can't be written: {}", std::strerror(errno)));
}

} // namespace winkhold::base
