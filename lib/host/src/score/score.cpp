#include "winkhold/host/score/figures.hpp"

#include <algorithm>

namespace winkhold::host {
namespace {

using core::Indication;
using core::Side;

/// Questions about one timeline, asked roughly in order of time.
class Answer {
public:
    explicit Answer(const Timeline& timeline) : timeline_(timeline) {}

    /// Index of the change in force at `t_us`; -1 before the first.
    std::ptrdiff_t at(TimeUs t_us) {
        while (hint_ >= 0 && timeline_[static_cast<std::size_t>(hint_)].t_us > t_us)
            --hint_;
        while (hint_ + 1 < size() && timeline_[static_cast<std::size_t>(hint_ + 1)].t_us <= t_us)
            ++hint_;
        return hint_;
    }

    Indication show(std::ptrdiff_t i) const {
        return i < 0 ? Indication::off : timeline_[static_cast<std::size_t>(i)].indication;
    }
    TimeUs time_us(std::ptrdiff_t i) const { return timeline_[static_cast<std::size_t>(i)].t_us; }
    std::ptrdiff_t size() const { return static_cast<std::ptrdiff_t>(timeline_.size()); }

    /// First moment from `from_us` on at which `side` is shown or not, `by_us` at the latest.
    TimeUs first(Side side, bool shown, TimeUs from_us, TimeUs by_us) {
        std::ptrdiff_t i = at(from_us);
        if (core::shows(show(i), side) == shown) return std::min(from_us, by_us);
        for (++i; i < size() && time_us(i) < by_us; ++i)
            if (core::shows(show(i), side) == shown) return time_us(i);
        return by_us;
    }

    /// How often `side` goes out in [from_us, to_us).
    std::int64_t losses(Side side, TimeUs from_us, TimeUs to_us) {
        std::int64_t losses = 0;
        for (std::ptrdiff_t i = at(from_us - 1) + 1; i < size() && time_us(i) < to_us; ++i)
            losses += core::shows(show(i - 1), side) && !core::shows(show(i), side);
        return losses;
    }

    /// Time in [from_us, to_us) with both sides shown.
    TimeUs both_us(TimeUs from_us, TimeUs to_us) {
        TimeUs sum_us = 0;
        for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(at(from_us), 0); i < size() && time_us(i) < to_us;
             ++i) {
            if (show(i) != Indication::hazard) continue;
            const TimeUs until_us = i + 1 < size() ? std::min(time_us(i + 1), to_us) : to_us;
            sum_us += std::max<TimeUs>(0, until_us - std::max(time_us(i), from_us));
        }
        return sum_us;
    }

private:
    const Timeline& timeline_;
    std::ptrdiff_t hint_{-1};
};

/// The moments at which one side goes on, each judged once.
class Shows {
public:
    Shows(const Timeline& timeline, Side side) : timeline_(timeline), side_(side) {}

    std::int64_t false_before(const AskedSide& asked) {
        const std::int64_t count = false_until(asked.start_us);
        judge_.next(asked);
        return count;
    }

    std::int64_t false_until(TimeUs to_us) {
        std::int64_t count = 0;
        for (; next_ < timeline_.size() && timeline_[next_].t_us < to_us; ++next_) {
            const bool was = next_ > 0 && core::shows(timeline_[next_ - 1].indication, side_);
            const bool goes_on = !was && core::shows(timeline_[next_].indication, side_);
            count += goes_on && judge_.is_false(timeline_[next_].t_us);
        }
        return count;
    }

private:
    const Timeline& timeline_;
    Side side_;
    std::size_t next_{0};
    FalseShowJudge judge_;
};

} // namespace

void score(const Truth& truth, const Timeline& timeline, Figures& figures) {
    Answer answer(timeline);
    Shows shows[2]{{timeline, Side::left}, {timeline, Side::right}};
    for (const Request& request : truth.requests)
        figures.flashes += request.flashes;
    for_each_event(
        truth,
        [&](const AskedSide& asked) {
            figures.false_shows += shows[static_cast<std::size_t>(asked.side)].false_before(asked);
            figures.dropouts += answer.losses(asked.side, asked.watched_from_us, asked.end_us);
            if (asked.lit) {
                const TimeUs shown_us =
                    answer.first(asked.side, true, asked.first_light_us, asked.shown_by_us);
                figures.acquire_us.push_back(shown_us - asked.first_light_us);
                figures.missed += shown_us == asked.shown_by_us;
            }
            if (asked.released)
                figures.release_us.push_back(answer.first(asked.side, false, asked.end_us, asked.gone_by_us) -
                                             asked.end_us);
        },
        [&](const Change& change) {
            figures.overlap_us.push_back(answer.both_us(change.from_us, change.to_us));
        });
    for (Shows& side : shows)
        figures.false_shows += side.false_until(never_us);
}

} // namespace winkhold::host
