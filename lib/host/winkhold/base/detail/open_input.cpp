#include "winkhold/base/detail/open_input.hpp"

#include <cerrno>
#include <chrono>
#include <fcntl.h>
#include <mutex>
#include <poll.h>
#include <set>
#include <sys/stat.h>
#include <thread>
#include <unistd.h>
#include <utility>

namespace winkhold::base {
namespace {

using Identity = std::pair<dev_t, ino_t>;

std::mutex noting;

std::set<Identity>& noted() {
    static std::set<Identity> files;
    return files;
}

/// tee() looks without taking anything: nothing to see and nobody writing is 0, a silent writer is EAGAIN.
bool has_writer(int pipe, int scratch) {
    const ssize_t seen = ::tee(pipe, scratch, 1, SPLICE_F_NONBLOCK);
    pollfd state{pipe, 0, 0};
    return seen > 0 || (seen < 0 && errno == EAGAIN) ||
           (::poll(&state, 1, 0) > 0 && (state.revents & POLLHUP) != 0); // there was one
}

/// False after ten seconds without anybody at the other end.
bool wait_for_writer(int pipe) {
    int scratch[2];
    if (::pipe2(scratch, O_CLOEXEC) != 0) return true;
    bool found = false;
    for (int tries = 0; tries < 500 && !(found = has_writer(pipe, scratch[1])); ++tries)
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    ::close(scratch[0]);
    ::close(scratch[1]);
    return found;
}

int closed_with(int file, int error) {
    ::close(file);
    errno = error;
    return -1;
}

} // namespace

int open_input(const std::string& path) {
    // a named pipe would keep us in open() for as long as nobody writes to it
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    struct stat about {};
    if (file < 0) return file;
    if (::fstat(file, &about) != 0) return closed_with(file, errno);
    if (S_ISFIFO(about.st_mode) && !wait_for_writer(file)) return closed_with(file, ETIMEDOUT);
    ::fcntl(file, F_SETFL, ::fcntl(file, F_GETFL) & ~O_NONBLOCK);
    if (S_ISREG(about.st_mode)) {
        const std::lock_guard lock(noting);
        noted().emplace(about.st_dev, about.st_ino);
    }
    return file;
}

bool was_read(const std::string& path) {
    struct stat of {};
    if (::stat(path.c_str(), &of) != 0) return false;
    struct stat input {};
    if (::fstat(STDIN_FILENO, &input) == 0 && S_ISREG(input.st_mode) && input.st_dev == of.st_dev &&
        input.st_ino == of.st_ino)
        return true;
    const std::lock_guard lock(noting);
    return noted().contains({of.st_dev, of.st_ino});
}

} // namespace winkhold::base
