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
    int gaps{0};
    TimeUs longest_gap_us{0}; ///< of the last four
    int on_times{0};
    TimeUs longest_on_us{0}; ///< of the last 48 of either side: what is short itself may not be learned
};

class FlashHistory {
public:
    FlashHistory(const Trace& trace, const core::Settings& settings) {
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

    /// Before the last flash that had risen by `t_us`: the gaps of `side`, if it has any, else of the other
    /// one, and the on times of both. Gaps too short to be dark join what they part.
    Learnable before(core::Side side, TimeUs t_us) const {
        Learnable known = of_line(side, t_us);
        const Learnable rival = of_line(core::other(side), t_us);
        if (known.gaps == 0) {
            known.gaps = rival.gaps;
            known.longest_gap_us = rival.longest_gap_us;
        }
        known.on_times += rival.on_times;
        known.longest_on_us = std::max(known.longest_on_us, rival.longest_on_us);
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
    /// A whole flash of `side`: a gap with one of the other side's in it is no rhythm.
    bool flashed_within(core::Side side, TimeUs from_us, TimeUs to_us) const {
        const SettledFlash* const flash = next(side, from_us);
        return flash != nullptr && flash->fell_us < to_us;
    }

    Learnable of_line(core::Side side, TimeUs t_us) const {
        Learnable known;
        const auto& flashes = of(side);
        TimeUs end_us = -1;
        bool judged = false;
        for (std::size_t i = risen_by(side, t_us); i-- > 0 && known.on_times < 48;) {
            const SettledFlash& flash = flashes[i];
            if (end_us < 0) end_us = flash.last_high_us; // of the flash that is judged, or a joined one
            const TimeUs gap_us = i == 0 ? never_us : flash.rise_us - flashes[i - 1].last_high_us;
            if (gap_us < core::built_in::blink_us) continue;
            if (judged) {
                ++known.on_times;
                known.longest_on_us = std::max(known.longest_on_us, end_us - flash.rise_us);
            }
            judged = true;
            if (gap_us <= core::built_in::longest_gap_us && known.gaps < 4 &&
                !flashed_within(core::other(side), flashes[i - 1].last_high_us, flash.rise_us)) {
                ++known.gaps;
                known.longest_gap_us = std::max(known.longest_gap_us, gap_us);
            }
            end_us = -1;
        }
        return known;
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
};

} // namespace winkhold::measure
