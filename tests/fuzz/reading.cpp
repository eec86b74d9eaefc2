#include "fuzz/reading.hpp"

#include "winkhold/taps/trace/timeline.hpp"

#include <cstdio>
#include <cstdlib>
#include <sys/mman.h>
#include <unistd.h>

namespace fuzz {

using namespace winkhold;

MemoryFile::MemoryFile(const std::uint8_t* data, std::size_t size)
    : file_(::memfd_create("fuzz", MFD_CLOEXEC)), path_("/proc/self/fd/" + std::to_string(file_)) {
    require(::write(file_, data, size) == static_cast<ssize_t>(size), "no file in memory");
}

MemoryFile::~MemoryFile() {
    ::close(file_);
}

void require(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "%s\n", what);
    std::abort();
}

void require_one_message(const host::InputError& error, const std::string& path) {
    const std::string_view message = error.what();
    require(message.starts_with(path + ":"), "the message does not start with the file's name");
    require(message.find('\n') == message.npos, "the message has more than one line");
}

void read_recording(const std::uint8_t* data, std::size_t size, const host::RecordingOptions& options) {
    const MemoryFile file(data, size);
    try {
        const auto source = host::open_recording(file.path(), options);
        host::Replay replay{core::Settings{}};
        const auto nobody = [](host::TimeUs, const core::Decoder&) {};
        host::Edge edge;
        host::TimeUs last_us = 0;
        for (; source->next(edge); last_us = edge.t_us) {
            require(edge.t_us >= last_us, "time goes back");
            replay.feed(edge, nobody);
        }
        require(source->end_us() >= last_us, "the end comes ahead of the last edge");
        require(source->end_us() <= host::latest_us, "the end is out of range");
        replay.finish(source->end_us(), nobody);
        for (const host::Caveat& caveat : source->caveats())
            require(caveat.count > 0 && caveat.first_us <= source->end_us(), "a caveat about nothing");
    } catch (const host::InputError& error) {
        require_one_message(error, file.path());
    }
}

} // namespace fuzz
