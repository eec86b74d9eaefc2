#include "work_options.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <limits>
#include <thread>
#include <unistd.h>

namespace winkhold::app {
namespace {
constexpr std::uint64_t any = std::numeric_limits<std::uint64_t>::max();
}

void Threads::add_to(Command& command) {
    command.number("--threads", threads_, 1, 1024, "threads; results never depend on it")
        .shown_as_default("all cores");
}

int Threads::count() const {
    return threads_ > 0 ? threads_ : static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
}

void add_seed(Command& command, std::uint64_t& seed, const std::string& whose) {
    command.number("--seed", seed, std::uint64_t{0}, any, whose + "random seed");
}

void add_trial(Command& command, std::uint64_t& trial, const std::string& whose) {
    command.number("--trial", trial, std::uint64_t{0}, any, whose + "which of the seed's rides");
}

void add_flashes(Command& command, std::int64_t& flashes, std::int64_t most, const std::string& of_what) {
    command.number("--flashes", flashes, std::int64_t{1}, most, of_what);
}

void add_fault_rides(Command& command, const std::string& name, std::uint64_t& seeds) {
    command.number(name, seeds, std::uint64_t{1}, std::uint64_t{1'000'000},
                   "rides for each variant of a fault");
}

host::Progress progress_of(const char* what) {
    if (isatty(STDERR_FILENO) == 0) return {};
    return [what](std::int64_t done, std::int64_t all) {
        fmt::print(stderr, "\r{} of {} {}{}", done, all, what, done == all ? "\r\033[K" : "");
    };
}

} // namespace winkhold::app
