#include "winkhold/base/detail/small_file.hpp"

#include "winkhold/base/detail/open_input.hpp"

#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace winkhold::base {
namespace {

/// Closed whatever happens.
struct Descriptor {
    int file;
    ~Descriptor() {
        if (file >= 0) ::close(file);
    }
};

} // namespace

std::string read_small_file(const std::string& path, std::size_t most_bytes, const std::string& what) {
    const auto refuse = [&](const std::string& why) { throw InputError(at_line(path, 0, why)); };
    struct stat about {};
    if (::stat(path.c_str(), &about) != 0)
        refuse(errno == ENOENT || errno == ENOTDIR ? std::string("no such file")
                                                   : fmt::format("can't be read: {}", std::strerror(errno)));
    if (S_ISDIR(about.st_mode)) refuse(fmt::format("is a folder, not a file; name {} in it", what));
    if (!S_ISREG(about.st_mode) && !S_ISFIFO(about.st_mode))
        refuse(fmt::format("is a device, not a file; name {}", what));
    const Descriptor opened{open_input(path)};
    if (opened.file < 0)
        refuse(errno == ETIMEDOUT ? nobody_writes : fmt::format("can't be read: {}", std::strerror(errno)));
    std::string text;
    char block[1 << 16];
    for (ssize_t got = 1; got > 0;) {
        got = ::read(opened.file, block, sizeof block);
        if (got < 0 && errno != EINTR) refuse(fmt::format("can't be read: {}", std::strerror(errno)));
        if (got < 0)
            got = 1;
        else
            text.append(block, static_cast<std::size_t>(got));
        if (text.size() > most_bytes)
            refuse(fmt::format("larger than {} MiB; is this {}?", most_bytes >> 20, what));
    }
    return text;
}

} // namespace winkhold::base
