// Speeds beyond the standard ones are set by the kernel's own structure, whose header can't be read together
// with the C library's <termios.h>: so this file is apart from the one with Asio.
#include "winkhold/live/port/serial_line.hpp"

#include <asm/termbits.h>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <unistd.h>

namespace winkhold::live {
namespace {

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw InputError(at_line(path, 0, why));
}

/// Those that look like a board's adapter.
std::string ports_here() {
    namespace fs = std::filesystem;
    std::string found;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator("/dev", error)) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with("ttyUSB") || name.starts_with("ttyACM"))
            found += (found.empty() ? "" : ", ") + entry.path().string();
    }
    return found.empty() ? "none of /dev/ttyUSB* or /dev/ttyACM* is there now" : "there is " + found;
}

[[noreturn]] void refuse_open(const std::string& path, int error) {
    switch (error) {
    case ENOENT:
    case ENXIO:
    case ENODEV:
        refuse(path, fmt::format("no such port; plug the board's adapter in ({})", ports_here()));
    case EACCES:
    case EPERM:
        refuse(path, "no permission; join the group that may: sudo usermod -aG dialout $USER, then log in "
                     "anew");
    case EBUSY:
        refuse(path, "another program has this port; close that one first");
    default:
        refuse(path, fmt::format("can't be opened: {}", std::strerror(error)));
    }
}

} // namespace

int open_serial_line(const std::string& path) {
    const int descriptor = ::open(path.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    if (descriptor < 0) refuse_open(path, errno);
    try {
        if (::isatty(descriptor) == 0) refuse(path, "is no serial port; name one like /dev/ttyUSB0");
        // The administrator passes the terminal's own lock, so there is one of the file, too.
        if (::flock(descriptor, LOCK_EX | LOCK_NB) != 0) refuse_open(path, EBUSY);
        ::ioctl(descriptor, TIOCEXCL);
        struct termios2 line {};
        if (::ioctl(descriptor, TCGETS2, &line) != 0) refuse_open(path, errno);
        line.c_iflag = IGNBRK;
        line.c_oflag = 0;
        line.c_lflag = 0;
        line.c_cflag = CS8 | CREAD | CLOCAL | BOTHER | (BOTHER << IBSHIFT);
        line.c_ispeed = line.c_ospeed = board_baud;
        line.c_cc[VMIN] = 1;
        line.c_cc[VTIME] = 0;
        if (::ioctl(descriptor, TCSETS2, &line) != 0 || ::ioctl(descriptor, TCGETS2, &line) != 0)
            refuse_open(path, errno);
        if (line.c_ospeed < board_baud - board_baud / 50 || line.c_ospeed > board_baud + board_baud / 50)
            refuse(path, fmt::format("this adapter can't do {} baud, it would be {}; take another one",
                                     board_baud, line.c_ospeed));
        return descriptor;
    } catch (...) {
        ::close(descriptor);
        throw;
    }
}

} // namespace winkhold::live
