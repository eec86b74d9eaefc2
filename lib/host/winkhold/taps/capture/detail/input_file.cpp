#include "winkhold/taps/capture/detail/input_file.hpp"

#include "winkhold/base/detail/open_input.hpp"
#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fmt/format.h>
#include <unistd.h>

namespace winkhold::taps::capture {
namespace {

int open_for_reading(const std::string& path) {
    if (path == "-") return STDIN_FILENO;
    const int file = open_input(path);
    if (file >= 0) return file;
    if (errno == ENOENT) throw Complaint{"no such file; check the name"};
    if (errno == ETIMEDOUT) throw Complaint{nobody_writes};
    throw Complaint{fmt::format("can't be opened: {}", std::strerror(errno))};
}

void close_unless_standard(int file) {
    if (file != STDIN_FILENO) ::close(file);
}

} // namespace

InputFile::InputFile(const std::string& path) : file_(open_for_reading(path)) {
    try {
        std::size_t count = 1;
        for (; count > 0 && start_size_ < start_.size(); start_size_ += count)
            count = read_more(start_.data() + start_size_, start_.size() - start_size_);
    } catch (...) {
        close_unless_standard(file_);
        throw;
    }
}

InputFile::~InputFile() {
    close_unless_standard(file_);
}

std::size_t InputFile::read(char* to, std::size_t size) {
    const std::size_t known = std::min(size, start_size_ - start_read_);
    if (known == 0) return read_more(to, size);
    std::memcpy(to, start_.data() + start_read_, known);
    start_read_ += known;
    return known;
}

int InputFile::rewound() {
    if (::lseek(file_, 0, SEEK_SET) == 0) return file_;
    throw Complaint{"a sound recording can't be read from a pipe; save it to a file and name that"};
}

std::size_t InputFile::read_more(char* to, std::size_t size) {
    for (;;) {
        const ssize_t count = ::read(file_, to, size);
        if (count >= 0) return static_cast<std::size_t>(count);
        if (errno == EINTR) continue;
        if (errno == EISDIR) throw Complaint{"is a directory; name a recording in it"};
        throw Complaint{fmt::format("can't be read: {}", std::strerror(errno))};
    }
}

} // namespace winkhold::taps::capture
