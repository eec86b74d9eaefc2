/// A ride's settled flashes, to look back from any moment.
#pragma once

#include "winkhold/taps/trace/settled_edges.hpp"

#include <algorithm>
#include <vector>

namespace winkhold::measure {

/// One settled on phase. `fell_us` is when its fall settled; never_us: still on at the ride's end.
struct SettledFlash {
    TimeUs rise_us;
    TimeUs last_high_us{never_us};
    TimeUs fell_us{never_us};
};

/// What was there to learn from before a moment. Unit: us.
struct Learnable {
    int gaps{0};              ///< of the last 24, those that are sure to be learned
    TimeUs longest_gap_us{0}; ///< of these
    int on_times{0};
    TimeUs longest_on_us{0}; ///< of the last 48: what is short itself may not be learned
};

class FlashHistory {
public:
    /// `odd(from, to)`: the rider's switch has moved, or the lines were spoilt, meanwhile.
    template <class Odd>
    FlashHistory(const Trace& trace, const core::Settings& settings, Odd&& odd) {
        LineSettler settler(settings);
        const auto take = [&](const SettledEdgeAt& edge) {
            auto& flashes = sides_[static_cast<std::size_t>(edge.side)];
            if (edge.rise)
                flashes.push_back({.rise_us = edge.t_us});
            else
                flashes.back().last_high_us = edge.last_high_us, flashes.back().fell_us = edge.t_us;
        };
        for (const Edge& edge : trace.edges)
            settler.feed(edge, take);
        settler.finish(trace.end_us, take);
        for (const core::Side side : {core::Side::left, core::Side::right})
            learn(side, joined(of(side)), odd);
        const auto in_time = [](const Lesson& a, const Lesson& b) { return a.t_us < b.t_us; };
        std::stable_sort(gaps_.begin(), gaps_.end(), in_time);
        std::stable_sort(on_times_.begin(), on_times_.end(), in_time);
    }

    /// The last flash that had risen by `t_us`; null if none.
    const SettledFlash* last(core::Side side, TimeUs t_us) const {
        const std::size_t n = risen_by(side, t_us);
        return n == 0 ? nullptr : &of(side)[n - 1];
    }
    /// The first flash that rises after `t_us`; null if none.
    const SettledFlash* next(core::Side side, TimeUs t_us) const {
        const std::size_t n = risen_by(side, t_us);
        return n == of(side).size() ? nullptr : &of(side)[n];
    }
    bool lit(core::Side side, TimeUs t_us) const {
        const SettledFlash* const flash = last(side, t_us);
        return flash != nullptr && t_us < flash->fell_us;
    }

    bool lit_between(core::Side side, TimeUs from_us, TimeUs to_us) const {
        const SettledFlash* const flash = last(side, to_us);
        return flash != nullptr && from_us < flash->fell_us;
    }
    /// A flash of `side` rose within `window_us` before or after `t_us`.
    bool risen_within(core::Side side, TimeUs t_us, TimeUs window_us) const {
        const SettledFlash* const flash = last(side, t_us + window_us);
        return flash != nullptr && flash->rise_us >= t_us - window_us;
    }

    /// Before the flash that rose at `t_us`, and of the gap before it. Both lines teach one rhythm.
    Learnable before(TimeUs t_us) const {
        Learnable known;
        int kept = 0;
        for (auto gap = gaps_.rbegin(); gap != gaps_.rend() && kept < 24; ++gap) {
            if (gap->t_us > t_us) continue;
            ++kept;
            if (!gap->sure) continue;
            ++known.gaps;
            known.longest_gap_us = std::max(known.longest_gap_us, gap->lasted_us);
        }
        for (auto on = on_times_.rbegin(); on != on_times_.rend() && known.on_times < 48; ++on)
            if (on->t_us < t_us) {
                ++known.on_times;
                known.longest_on_us = std::max(known.longest_on_us, on->lasted_us);
            }
        return known;
    }

    /// Among the last nine rises by `t_us` of either side one followed or preceded a fall within
    /// `window_us`.
    bool pieces(TimeUs window_us, TimeUs t_us) const {
        for (const core::Side side : {core::Side::left, core::Side::right}) {
            const auto& flashes = of(side);
            const std::size_t n = risen_by(side, t_us);
            for (std::size_t i = n - std::min<std::size_t>(n, 9); i < n; ++i)
                if (flashes[i].last_high_us - flashes[i].rise_us <= window_us ||
                    (i > 0 && flashes[i].rise_us - flashes[i - 1].last_high_us <= window_us))
                    return true;
        }
        return false;
    }

private:
    /// A duration, and when the flash rose that it belongs to: a gap, to the flash after it.
    struct Lesson {
        TimeUs t_us;
        TimeUs lasted_us;
        bool sure; ///< the same sides before it and after, and nothing odd until the flash had stood for a
                   ///< blink
    };

    /// Flashes as they count: pieces less than a blink apart are one, and what is lit for less is none.
    static std::vector<SettledFlash> joined(const std::vector<SettledFlash>& pieces) {
        std::vector<SettledFlash> flashes;
        for (const SettledFlash& piece : pieces)
            if (!flashes.empty() && piece.rise_us - flashes.back().last_high_us < core::built_in::blink_us) {
                flashes.back().last_high_us = piece.last_high_us;
                flashes.back().fell_us = piece.fell_us;
            } else {
                flashes.push_back(piece);
            }
        std::erase_if(flashes, [](const SettledFlash& flash) {
            return flash.fell_us - flash.rise_us <= core::built_in::blink_us;
        });
        return flashes;
    }

    template <class Odd>
    void learn(core::Side side, const std::vector<SettledFlash>& flashes, Odd&& odd) {
        for (std::size_t i = 0; i < flashes.size(); ++i) {
            const SettledFlash& flash = flashes[i];
            if (flash.last_high_us != never_us)
                on_times_.push_back({flash.rise_us, flash.last_high_us - flash.rise_us, true});
            if (i == 0) continue;
            const TimeUs gap_us = flash.rise_us - flashes[i - 1].last_high_us;
            if (gap_us > core::built_in::longest_gap_us) continue;
            const bool as_before =
                with_other(side, flash) == with_other(side, flashes[i - 1]) && !begins_other(side, flash);
            gaps_.push_back(
                {flash.rise_us, gap_us,
                 as_before && !odd(flashes[i - 1].rise_us, flash.rise_us + core::built_in::blink_us)});
        }
    }
    /// The other side is lit, too, at some time.
    bool with_other(core::Side side, const SettledFlash& flash) const {
        return lit_between(core::other(side), flash.rise_us, flash.last_high_us);
    }
    /// And has not been within the longest gap before: what both do is a new request.
    bool begins_other(core::Side side, const SettledFlash& flash) const {
        if (!with_other(side, flash)) return false;
        const SettledFlash* const beside = last(core::other(side), flash.last_high_us);
        const SettledFlash* const before = last(core::other(side), beside->rise_us - 1);
        return before == nullptr || beside->rise_us - before->last_high_us > core::built_in::longest_gap_us;
    }

    const std::vector<SettledFlash>& of(core::Side side) const {
        return sides_[static_cast<std::size_t>(side)];
    }
    std::size_t risen_by(core::Side side, TimeUs t_us) const {
        const auto& flashes = of(side);
        return static_cast<std::size_t>(
            std::upper_bound(flashes.begin(), flashes.end(), t_us,
                             [](TimeUs t, const SettledFlash& flash) { return t < flash.rise_us; }) -
            flashes.begin());
    }

    std::vector<SettledFlash> sides_[2];
    std::vector<Lesson> gaps_;
    std::vector<Lesson> on_times_;
};

} // namespace winkhold::measure
