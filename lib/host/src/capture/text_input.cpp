#include "capture/text_input.hpp"

#include "capture/complaint.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <string_view>
#include <sys/stat.h>
#include <unistd.h>

namespace winkhold::host::capture {
namespace {

// Small enough that a block is still in the processor's cache when it is parsed.
constexpr std::size_t chunk = std::size_t{128} << 10;

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

int open_for_reading(const std::string& path) {
    const int file = path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file >= 0) return file;
    if (errno == ENOENT) throw Complaint{"no such file; check the name"};
    throw Complaint{fmt::format("can't be opened: {}", std::strerror(errno))};
}

} // namespace

TextInput::TextInput(int file)
    : file_(file), buffer_(longest_line + chunk + 1 + overscan), begin_(buffer_.data()), end_(begin_),
      filled_(buffer_.data()) {}

TextInput::TextInput(const std::string& path) : TextInput(open_for_reading(path)) {
    refill(begin_);
    const std::string_view text(begin_, static_cast<std::size_t>(end_ - begin_));
    if (text.substr(0, byte_order_mark.size()) == byte_order_mark) begin_ += byte_order_mark.size();
}

TextInput::~TextInput() {
    if (file_ != STDIN_FILENO) ::close(file_);
}

bool TextInput::refill(const char* keep) {
    const auto kept = static_cast<std::size_t>(filled_ - keep);
    std::memmove(buffer_.data(), keep, kept);
    end_ -= keep - buffer_.data();
    begin_ = buffer_.data();
    filled_ = buffer_.data() + kept;
    for (;;) {
        if (filled_ - begin_ > static_cast<std::ptrdiff_t>(longest_line)) {
            throw Complaint{"a line longer than 1 MiB; is this a recording, or is a quote left open?"};
        }
        const std::size_t count = read_chunk();
        if (count == 0) {
            if (filled_ == end_) return false;
            *filled_++ = '\n';
            end_ = filled_;
            return true;
        }
        const std::size_t last_newline = std::string_view(filled_, count).rfind('\n');
        filled_ += count;
        if (last_newline == std::string_view::npos) continue;
        end_ = filled_ - count + last_newline + 1;
        return true;
    }
}

std::size_t TextInput::read_chunk() {
    for (;;) {
        const ssize_t count = ::read(file_, filled_, chunk);
        if (count >= 0) return static_cast<std::size_t>(count);
        if (errno == EINTR) continue;
        if (errno == EISDIR) throw Complaint{"is a directory; name a recording in it"};
        throw Complaint{fmt::format("can't be read: {}", std::strerror(errno))};
    }
}

} // namespace winkhold::host::capture
