/// Independent pieces of work on several threads.
#pragma once

#include "winkhold/base/progress.hpp"

#include <algorithm>
#include <atomic>
#include <mutex>
#include <thread>
#include <vector>

namespace winkhold::base {

/// Calls work(i) once for each i in [0, count), each on some thread; results belong at index i, so that the
/// number of threads is never seen in them.
template <class Work>
void for_each_index(std::size_t count, int threads, Work&& work, const Progress& progress = {}) {
    std::atomic<std::size_t> next{0};
    std::mutex telling;
    std::int64_t done = 0;
    const auto some = [&] {
        for (std::size_t i = next++; i < count; i = next++) {
            work(i);
            const std::lock_guard lock(telling);
            ++done;
            if (progress) progress(done, static_cast<std::int64_t>(count));
        }
    };
    const auto workers = std::min(count, static_cast<std::size_t>(std::max(threads, 1)));
    std::vector<std::jthread> others;
    for (std::size_t i = 1; i < workers; ++i)
        others.emplace_back(some);
    some();
}

} // namespace winkhold::base
