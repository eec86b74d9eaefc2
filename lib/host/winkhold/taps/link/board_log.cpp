#include "winkhold/taps/link/board_log.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/detail/open_input.hpp"
#include "winkhold/base/error.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace winkhold::taps {
namespace {

constexpr std::string_view head = "# winkhold link 2\n";
constexpr std::string_view mark_word = "# mark ";
constexpr std::size_t longest_note = 200;

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw InputError(at_line(path, 0, why));
}

/// A colon begins a line of the board's, so a note has none.
std::string as_note(std::string_view note) {
    std::string text = legible(note.substr(0, longest_note));
    std::replace(text.begin(), text.end(), ':', '.');
    return text;
}

} // namespace

struct BoardLog::Parts {
    ~Parts() {
        if (descriptor >= 0) ::close(descriptor);
    }
    void write(std::string_view bytes) {
        while (!bytes.empty()) {
            const ssize_t count = ::write(descriptor, bytes.data(), bytes.size());
            if (count < 0 && errno == EINTR) continue;
            if (count <= 0)
                refuse(path,
                       fmt::format("writing failed ({}); what came before is in it", std::strerror(errno)));
            at_line_end = bytes[static_cast<std::size_t>(count) - 1] == '\n';
            bytes.remove_prefix(static_cast<std::size_t>(count));
        }
    }
    void write_marks() {
        for (const std::string& mark : std::exchange(waiting, {}))
            write(mark);
    }

    std::string path;
    int descriptor{-1};
    bool at_line_end{true};
    std::int64_t marks{0};
    std::vector<std::string> waiting;
    BoardLink link;
    BoardListener nobody;
};

BoardLog::BoardLog(const std::string& path, bool replace) : parts_(std::make_unique<Parts>()) {
    parts_->path = path;
    struct stat there {};
    const bool exists = ::stat(path.c_str(), &there) == 0;
    if (exists && !S_ISREG(there.st_mode)) refuse(path, "is no file; choose another name to record to");
    if (exists && was_read(path)) refuse(path, "is what is being read; choose another name to record to");
    parts_->descriptor =
        ::open(path.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC | (replace ? O_TRUNC : O_EXCL), 0666);
    if (parts_->descriptor < 0 && errno == EEXIST)
        refuse(path, "is there already; choose another name, or --force to replace it");
    if (parts_->descriptor < 0)
        refuse(path, fmt::format("can't be written: {}; does its folder exist?", std::strerror(errno)));
    parts_->write(head);
}
BoardLog::~BoardLog() {
    if (parts_->waiting.empty()) return;
    try {
        if (!parts_->at_line_end) parts_->write("\n");
        parts_->write_marks();
    } catch (const InputError&) { // a full disk has been told of
    }
}

void BoardLog::add(std::string_view bytes) {
    parts_->link.feed(bytes, parts_->nobody);
    const std::size_t line = bytes.find('\n');
    if (!parts_->waiting.empty() && line != std::string_view::npos) {
        parts_->write(bytes.substr(0, line + 1));
        parts_->write_marks();
        bytes.remove_prefix(line + 1);
    }
    parts_->write(bytes);
}

TimeUs BoardLog::now_us() const {
    return parts_->link.now_us().value_or(0);
}

void BoardLog::mark(std::string_view note, TimeUs t_us) {
    parts_->waiting.push_back(
        fmt::format("{}{}.{:06} {}\n", mark_word, t_us / 1'000'000, t_us % 1'000'000, as_note(note)));
    ++parts_->marks;
    if (parts_->at_line_end) parts_->write_marks();
}

const std::string& BoardLog::path() const {
    return parts_->path;
}
std::int64_t BoardLog::marks() const {
    return parts_->marks;
}

namespace {

/// "12.345678 note": its moment and the rest; none if it is no mark.
std::optional<Mark> mark_of(std::string_view text) {
    TimeUs seconds = 0;
    TimeUs micros = 0;
    const char* const end = text.data() + text.size();
    const auto whole = std::from_chars(text.data(), end, seconds);
    if (whole.ec != std::errc{} || whole.ptr == end || *whole.ptr != '.' || end - whole.ptr < 7 ||
        seconds < 0 || seconds > latest_us / 1'000'000)
        return std::nullopt;
    const auto rest = std::from_chars(whole.ptr + 1, whole.ptr + 7, micros);
    if (rest.ec != std::errc{} || rest.ptr != whole.ptr + 7 || micros < 0) return std::nullopt;
    std::string_view note(rest.ptr, static_cast<std::size_t>(end - rest.ptr));
    while (!note.empty() && (note.front() == ' ' || note.back() == '\r'))
        note.front() == ' ' ? note.remove_prefix(1) : note.remove_suffix(1);
    return Mark{seconds * 1'000'000 + micros, legible(note), {}};
}

struct SettingsHeard : BoardListener {
    core::Settings last;
    void settings(const core::Settings& said, link::Origin) override { last = said; }
};

} // namespace

std::vector<Mark> read_marks(const std::string& path) {
    const int descriptor = open_input(path);
    if (descriptor < 0) refuse(path, fmt::format("can't be read: {}", std::strerror(errno)));
    std::vector<Mark> marks;
    BoardLink link;
    SettingsHeard heard;
    std::string line;
    std::array<char, 65'536> bytes;
    ssize_t count = 0;
    while ((count = ::read(descriptor, bytes.data(), bytes.size())) > 0)
        for (const char c : std::string_view(bytes.data(), static_cast<std::size_t>(count))) {
            link.feed({&c, 1}, heard);
            if (c != '\n') {
                if (line.size() < mark_word.size() + longest_note * 4) line += c;
                continue;
            }
            if (line.starts_with(mark_word))
                if (auto mark = mark_of(std::string_view(line).substr(mark_word.size()))) {
                    mark->settings = heard.last;
                    marks.push_back(std::move(*mark));
                }
            line.clear();
        }
    ::close(descriptor);
    return marks;
}

} // namespace winkhold::taps
