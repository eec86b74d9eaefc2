/// The last minutes of something that changes.
#pragma once

#include "winkhold/base/time.hpp"

#include <cstddef>
#include <deque>

namespace winkhold::live {

/// So long, and so many changes, are remembered: ten minutes of hazard flashing are 2,000, of chatter much
/// more.
inline constexpr TimeUs remembered_us = 600'000'000;
inline constexpr std::size_t most_remembered = 60'000;

/// Changes, each with a `t_us`, in order of time. The oldest one may be older than what is remembered: it
/// says what held when that began.
template <class Change>
class Remembered {
public:
    /// The newest one.
    void add(const Change& change) {
        changes_.push_back(change);
        while (changes_.size() > 1 &&
               (changes_.size() > most_remembered || change.t_us - changes_[1].t_us > remembered_us))
            changes_.pop_front();
    }
    /// Oldest first.
    const std::deque<Change>& changes() const { return changes_; }

private:
    std::deque<Change> changes_;
};

} // namespace winkhold::live
