#include "winkhold/measure/soak/detail/state_file.hpp"

#include "winkhold/base/detail/crc.hpp"
#include "winkhold/base/error.hpp"

#include <cerrno>
#include <charconv>
#include <cstring>
#include <fcntl.h>
#include <fmt/format.h>
#include <optional>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace winkhold::measure {
namespace {

constexpr std::string_view schema = "winkhold.soak-state/1";
constexpr std::size_t crc_digits = 8;

std::string with_crc(std::string line) {
    return fmt::format("{} {:08x}\n", line, crc32(line));
}

std::string shard_line(std::int64_t shard, const SoakTally& tally) {
    std::string line = fmt::format("{}", shard);
    for_each_number(tally, [&](std::int64_t number) { line += fmt::format(" {}", number); });
    return with_crc(line);
}

/// Tells a program that would count otherwise: another decoder, other axes, other settings.
std::uint32_t fingerprint(const SoakPlan& plan) {
    SoakPlan probe = plan;
    probe.seed = 0;
    SoakTally tally;
    for (std::int64_t ride = 0; ride < 200; ++ride)
        tally.add(ride, run_soak_ride(probe, ride));
    return crc32(shard_line(0, tally));
}

std::string head_of(const SoakPlan& plan) {
    return with_crc(fmt::format("{} seed {} flashes {} fingerprint {:08x}", schema, plan.seed, plan.flashes,
                                fingerprint(plan)));
}

std::string read_all(int file) {
    std::string text;
    char part[1 << 16];
    for (ssize_t got = 0; (got = ::read(file, part, sizeof part)) > 0;)
        text.append(part, static_cast<std::size_t>(got));
    return text;
}

/// The line without its CRC; nothing if the CRC is wrong.
std::optional<std::string_view> checked(std::string_view line) {
    if (line.size() < crc_digits + 2) return {};
    const std::string_view body = line.substr(0, line.size() - crc_digits - 1);
    const std::string expected = with_crc(std::string(body));
    if (std::string_view(expected).substr(0, expected.size() - 1) != line) return {};
    return body;
}

/// Two heads, word by word: which one differs?
std::string difference(std::string_view theirs, std::string_view ours, const SoakPlan& plan) {
    const auto word_after = [](std::string_view head, std::string_view key) {
        const std::size_t at = head.find(key);
        if (at == std::string_view::npos) return std::string();
        const std::size_t from = at + key.size();
        return std::string(head.substr(from, head.find(' ', from) - from));
    };
    if (const std::string seed = word_after(theirs, " seed "); seed != word_after(ours, " seed "))
        return fmt::format("was begun with --seed {}, not {}", seed, plan.seed);
    if (const std::string flashes = word_after(theirs, " flashes "); flashes != word_after(ours, " flashes "))
        return fmt::format("was begun with --flashes {}, not {}", flashes, plan.flashes);
    return "was begun with other decoder settings, or by another version of this program";
}

} // namespace

StateFile::StateFile(const SoakPlan& plan, ShardSum& done)
    : path_(plan.state_file), shards_(shards_of(plan.flashes)) {
    file_ = ::open(path_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
    try {
        if (file_ < 0) refuse(0, fmt::format("can't be opened for writing: {}", std::strerror(errno)));
        struct stat about {};
        if (::fstat(file_, &about) != 0 || !S_ISREG(about.st_mode)) refuse(0, "is no plain file; name one");
        if (::flock(file_, LOCK_EX | LOCK_NB) != 0)
            refuse(0, "another soak is writing to it; wait for that one, or name another file");
        const std::string head = head_of(plan);
        const std::string text = read_all(file_);
        const std::size_t end = text.rfind('\n');
        if (end == std::string::npos) { // new, or killed while its first line was written
            if (!head.starts_with(text)) refuse(1, "is no state of a soak; name another file");
            if (::ftruncate(file_, 0) != 0 || ::lseek(file_, 0, SEEK_SET) != 0) refuse(0, "can't be written");
            write(head);
            return;
        }
        const std::size_t head_end = text.find('\n') + 1;
        const std::string_view theirs = std::string_view(text).substr(0, head_end);
        if (theirs != head) {
            const auto body = checked(theirs.substr(0, head_end - 1));
            if (!body || !body->starts_with(schema)) refuse(1, "is no state of a soak; name another file");
            refuse(1, difference(*body, head, plan) + "; run it the same way, or name another file");
        }
        take_over(text.substr(0, end + 1), head, done);
        const auto length = static_cast<off_t>(end + 1);
        if (::ftruncate(file_, length) != 0 || ::lseek(file_, length, SEEK_SET) != length)
            refuse(0, "can't be written");
    } catch (...) {
        if (file_ >= 0) ::close(file_);
        throw;
    }
}

StateFile::~StateFile() {
    ::close(file_);
}

void StateFile::append(std::int64_t shard, const SoakTally& tally) {
    write(shard_line(shard, tally));
}

void StateFile::take_over(const std::string& text, const std::string& head, ShardSum& done) {
    std::int64_t number = 1;
    for (std::size_t at = head.size(); at < text.size();) {
        const std::size_t end = text.find('\n', at);
        take_line(std::string_view(text).substr(at, end - at), ++number, done);
        at = end + 1;
    }
}

void StateFile::take_line(std::string_view line, std::int64_t number, ShardSum& done) {
    const auto body = checked(line);
    const auto damaged = [&] {
        refuse(number, "is damaged; delete that line to have its shard done again, or name another file");
    };
    if (!body) damaged();
    const char* at = body->data();
    const char* const end = at + body->size();
    const auto next = [&](std::int64_t& value) {
        if (at != body->data() && (at == end || *at++ != ' ')) damaged();
        const auto [rest, error] = std::from_chars(at, end, value);
        if (error != std::errc{}) damaged();
        at = rest;
    };
    std::int64_t shard = -1;
    next(shard);
    SoakTally tally;
    for_each_number(tally, next);
    if (at != end || shard < 0 || shard >= shards_) damaged();
    if (done.has(shard)) refuse(number, fmt::format("shard {} stands there twice; delete that line", shard));
    done.put(shard, tally);
}

void StateFile::refuse(std::int64_t line, const std::string& what) const {
    throw InputError(at_line(path_, line, what));
}

void StateFile::write(const std::string& text) {
    for (std::size_t done = 0; done < text.size();) {
        const ssize_t wrote = ::write(file_, text.data() + done, text.size() - done);
        if (wrote < 0 && errno == EINTR) continue;
        if (wrote <= 0) refuse(0, "writing failed; is the disk full? What is there can be resumed");
        done += static_cast<std::size_t>(wrote);
    }
}

} // namespace winkhold::measure
