#include "winkhold/measure/score/figures.hpp"

#include <algorithm>

namespace winkhold::measure {
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

    /// Calls lost(t_us) for each time `side` goes out in [from_us, to_us).
    template <class Lost>
    void for_each_loss(Side side, TimeUs from_us, TimeUs to_us, Lost&& lost) {
        for (std::ptrdiff_t i = at(from_us - 1) + 1; i < size() && time_us(i) < to_us; ++i)
            if (core::shows(show(i - 1), side) && !core::shows(show(i), side)) lost(time_us(i));
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

    /// Calls found(t_us) for each false show before `asked`.
    template <class Found>
    void false_before(const AskedSide& asked, Found&& found) {
        false_until(asked.start_us, found);
        judge_.next(asked);
    }

    template <class Found>
    void false_until(TimeUs to_us, Found&& found) {
        for (; next_ < timeline_.size() && timeline_[next_].t_us < to_us; ++next_) {
            const bool was = next_ > 0 && core::shows(timeline_[next_ - 1].indication, side_);
            const bool goes_on = !was && core::shows(timeline_[next_].indication, side_);
            if (goes_on && judge_.is_false(timeline_[next_].t_us)) found(timeline_[next_].t_us);
        }
    }

private:
    const Timeline& timeline_;
    Side side_;
    std::size_t next_{0};
    FalseShowJudge judge_;
};

} // namespace

void for_each_scored(const Truth& truth, const Timeline& timeline,
                     const std::function<void(const Scored&)>& scored) {
    using enum ScoredWhat;
    Answer answer(timeline);
    Shows shows[2]{{timeline, Side::left}, {timeline, Side::right}};
    const auto falsely_shown = [&](Side side) {
        return [&scored, side](TimeUs t_us) { scored({false_show, t_us, 0, side, nullptr, nullptr}); };
    };
    for_each_event(
        truth,
        [&](const AskedSide& asked) {
            const Side side = asked.side;
            shows[static_cast<std::size_t>(side)].false_before(asked, falsely_shown(side));
            answer.for_each_loss(side, asked.watched_from_us, asked.end_us, [&](TimeUs t_us) {
                scored({dropout, t_us, 0, side, &asked, nullptr});
            });
            if (asked.lit) {
                const TimeUs shown_us = answer.first(side, true, asked.first_light_us, asked.shown_by_us);
                const TimeUs took_us = shown_us - asked.first_light_us;
                scored({acquire, shown_us, took_us, side, &asked, nullptr});
                if (shown_us == asked.shown_by_us) scored({missed, shown_us, took_us, side, &asked, nullptr});
            }
            if (asked.released) {
                const TimeUs gone_us = answer.first(side, false, asked.end_us, asked.gone_by_us);
                scored({release, gone_us, gone_us - asked.end_us, side, &asked, nullptr});
            }
        },
        [&](const Change& change) {
            scored({overlap, change.from_us, answer.both_us(change.from_us, change.to_us), Side::left,
                    nullptr, &change});
        });
    for (const Side side : {Side::left, Side::right})
        shows[static_cast<std::size_t>(side)].false_until(never_us, falsely_shown(side));
}

void score(const Truth& truth, const Timeline& timeline, Figures& figures, TimeUs from_us, TimeUs before_us) {
    for (const Request& request : truth.requests)
        if (from_us <= request.start_us && request.start_us < before_us) figures.flashes += request.flashes;
    for_each_scored(truth, timeline, [&](const Scored& scored) {
        const TimeUs began_us = scored.asked != nullptr    ? scored.asked->start_us
                                : scored.change != nullptr ? scored.change->from_us - 1 // the old side's
                                                           : scored.t_us;
        if (began_us < from_us || began_us >= before_us) return;
        switch (scored.what) {
        case ScoredWhat::dropout:
            ++figures.dropouts;
            break;
        case ScoredWhat::false_show:
            ++figures.false_shows;
            break;
        case ScoredWhat::missed:
            ++figures.missed;
            break;
        case ScoredWhat::acquire:
            figures.acquire_us.push_back(scored.value_us);
            break;
        case ScoredWhat::release:
            figures.release_us.push_back(scored.value_us);
            break;
        case ScoredWhat::overlap:
            figures.overlap_us.push_back(scored.value_us);
            break;
        }
    });
}

} // namespace winkhold::measure
