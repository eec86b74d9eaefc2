#include "reference/verdicts.hpp"

#include <algorithm>
#include <optional>
#include <set>

namespace winkhold::reference {
namespace {

using Side = std::size_t; ///< 0 left, 1 right

constexpr Side other(Side side) {
    return 1 - side;
}

/// A flash begins, or a piece of one that chatters.
struct Rise {
    TimeUs t_us{0};
    TimeUs flash_start_us{0};
    TimeUs fall_us{0};

    bool begins_flash() const { return t_us == flash_start_us; }
};

struct Fall {
    TimeUs t_us{0};
    TimeUs last_high_us{0};
};

/// A question of time that is still open: does `side` take over (rise), or has it ended (fall)?
struct Window {
    Side side{0};
    TimeUs from_us{0};
    TimeUs ends_us{0};
    bool hides{false}; ///< `side` is shown only from the end on
};

class Walk {
public:
    Walk(const BothFlashes& flashes, const std::vector<Stretch>& supply, const core::Settings& settings)
        : settings_(settings) {
        for (Side side : {0, 1})
            for (const Flash& flash : flashes[side])
                for (const Piece& piece : flash.pieces) {
                    rises_[side].push_back({piece.phase.rise_us, flash.start_us(), piece.phase.fall_us});
                    if (piece.phase.fall_us == never_us) continue;
                    falls_[side].push_back({piece.phase.fall_us, piece.phase.last_high_us});
                    if (settings.cut_short && piece.cut == CutShort::yes)
                        let_go(side, piece.phase.fall_us, Order::falls);
                }
        supply_gone(supply);
    }

    std::array<Verdicts, 2> verdicts() {
        if (settings_.handover_us == 0) return verdicts_;
        std::set<TimeUs> moments;
        for (Side side : {0, 1}) {
            for (const Rise& rise : rises_[side])
                moments.insert(rise.t_us);
            for (const Fall& fall : falls_[side])
                moments.insert(fall.t_us);
        }
        for (const TimeUs t_us : moments) {
            windows_end_before(t_us);
            falls_at(t_us);
            rises_at(t_us);
        }
        windows_end_before(never_us);
        return verdicts_;
    }

private:
    /// Supply low for so long: all is off. Only its coming back before the end helps.
    void supply_gone(const std::vector<Stretch>& supply) {
        if (settings_.supply_gone_us == 0) return;
        for (std::size_t i = 0; i < supply.size(); ++i) {
            const TimeUs gone_us = supply[i].to_us + settings_.supply_gone_us;
            if (i + 1 < supply.size() && supply[i + 1].from_us <= gone_us) continue;
            for (Side side : {0, 1})
                let_go(side, gone_us, Order::silence);
        }
    }

    void falls_at(TimeUs t_us) {
        std::array<const Fall*, 2> fell{};
        for (Side side : {0, 1})
            for (const Fall& fall : falls_[side])
                if (fall.t_us == t_us) fell[side] = &fall;
        for (Side side : {0, 1}) {
            if (fell[side] == nullptr) continue;
            if (ending_ && ending_->side == other(side)) ending_.reset(); // both dark: a hazard's pause
            if (settings_.fall_window_us == 0 || takeover_ || !lit(other(side), t_us, Order::falls)) continue;
            const TimeUs window_us = has_just_risen(other(side), t_us)
                                         ? std::min(settings_.handover_us, settings_.fall_window_us)
                                         : settings_.fall_window_us;
            ending_ = {side, t_us, std::max(t_us, fell[side]->last_high_us + window_us), false};
        }
    }

    void rises_at(TimeUs t_us) {
        std::array<bool, 2> begins{};
        for (Side side : {0, 1})
            for (const Rise& rise : rises_[side])
                if (rise.t_us == t_us && rise.begins_flash()) begins[side] = true;
        if (begins[0] && begins[1]) {
            hazard(t_us);
        } else {
            for (Side side : {0, 1})
                if (begins[side]) rises_alone(side, t_us);
        }
    }

    void hazard(TimeUs t_us) {
        close_windows(t_us);
        last_was_hazard_ = true;
    }

    void rises_alone(Side side, TimeUs t_us) {
        const Side rival = other(side);
        if (has_just_risen(rival, t_us) && on(rival, t_us, Order::rises) != nullptr) return hazard(t_us);
        const bool within_hazard = last_was_hazard_;
        const bool takes_turn = in_rhythm(rival, t_us) && !within_hazard && last_side_ != side;
        last_side_ = side;
        last_was_hazard_ = lit(rival, t_us, Order::rises);
        if (last_was_hazard_) return;
        const bool hidden_rival = takeover_ && takeover_->hides && takeover_->side == rival;
        if (hidden_rival || (settings_.handover_end == core::HandoverEnd::at_once && !within_hazard)) {
            close_windows(t_us);
            return let_go(rival, t_us, Order::rises);
        }
        if (takeover_ && takeover_->side == side) return; // the window goes on
        const bool hides =
            settings_.handover_end == core::HandoverEnd::delay && takes_turn && is_newcomer(side, t_us);
        takeover_ = {side, t_us, t_us + settings_.handover_us, hides};
    }

    void windows_end_before(TimeUs t_us) {
        if (takeover_ && takeover_->ends_us < t_us) {
            const Window window = *takeover_;
            close_takeover(window.ends_us);
            // a newcomer too short to have been shown goes; else it takes over, unless the other is back
            if (window.hides && !on(window.side, window.ends_us, Order::silence))
                let_go(window.side, window.ends_us, Order::silence);
            else if (!lit(other(window.side), window.ends_us, Order::silence))
                let_go(other(window.side), window.ends_us, Order::silence);
        }
        if (ending_ && ending_->ends_us < t_us) {
            if (!on(ending_->side, ending_->ends_us, Order::silence) &&
                lit(other(ending_->side), ending_->ends_us, Order::silence)) {
                let_go(ending_->side, ending_->ends_us, Order::silence);
                last_side_ = other(ending_->side);
                last_was_hazard_ = false;
            }
            ending_.reset();
        }
    }

    void close_takeover(TimeUs t_us) {
        if (takeover_ && takeover_->hides)
            verdicts_[takeover_->side].hidden.push_back({takeover_->from_us, t_us});
        takeover_.reset();
    }

    void close_windows(TimeUs t_us) {
        close_takeover(t_us);
        ending_.reset();
    }

    void let_go(Side side, TimeUs t_us, Order order) { verdicts_[side].let_go.push_back({t_us, order}); }

    /// The piece of a flash that is on at `t_us`, after what happens there up to `order`; or null. Of the
    /// rises of one moment those that only carry a flash on come first.
    const Rise* on(Side side, TimeUs t_us, Order order) const {
        for (const Rise& rise : rises_[side]) {
            const bool risen = rise.t_us < t_us || (rise.t_us == t_us && order == Order::silence) ||
                               (rise.t_us == t_us && order == Order::rises && !rise.begins_flash());
            if (risen && t_us < rise.fall_us) return &rise;
        }
        return nullptr;
    }

    /// On, but for no longer than a flash can be.
    bool lit(Side side, TimeUs t_us, Order order) const {
        const Rise* rise = on(side, t_us, order);
        return rise != nullptr && t_us - rise->flash_start_us <= longest_gap_us;
    }

    /// A flash of `side` has begun within the handover window.
    bool has_just_risen(Side side, TimeUs t_us) const {
        return std::any_of(rises_[side].begin(), rises_[side].end(), [&](const Rise& rise) {
            return rise.t_us < t_us && t_us - rise.flash_start_us <= TimeUs{settings_.handover_us};
        });
    }

    /// On for at most 3 s, or dark for at most 1 s.
    bool in_rhythm(Side side, TimeUs t_us) const {
        if (const Rise* rise = on(side, t_us, Order::rises))
            return t_us - rise->flash_start_us <= longest_on_us;
        return std::any_of(falls_[side].begin(), falls_[side].end(), [&](const Fall& fall) {
            return fall.t_us <= t_us && t_us - fall.last_high_us <= longest_gap_us;
        });
    }

    /// Never risen before `t_us`, or let go since.
    bool is_newcomer(Side side, TimeUs t_us) const {
        TimeUs last_rise_us = -1;
        for (const Rise& rise : rises_[side])
            if (rise.t_us < t_us) last_rise_us = std::max(last_rise_us, rise.t_us);
        if (last_rise_us < 0) return true;
        const auto& ends = verdicts_[side].let_go;
        return std::any_of(ends.begin(), ends.end(), [&](const LetGo& end) {
            return end.t_us >= last_rise_us &&
                   (end.t_us < t_us || (end.t_us == t_us && end.order == Order::falls));
        });
    }

    core::Settings settings_;
    std::array<std::vector<Rise>, 2> rises_;
    std::array<std::vector<Fall>, 2> falls_;
    std::array<Verdicts, 2> verdicts_;
    std::optional<Window> takeover_; ///< a side has risen alone
    std::optional<Window> ending_;   ///< a side has gone dark while the other is lit
    Side last_side_{2};              ///< the side that rose last; 2: none yet
    bool last_was_hazard_{false};    ///< at the last rise both sides were lit or rose as one
};

} // namespace

std::array<Verdicts, 2> verdicts(const BothFlashes& flashes, const std::vector<Stretch>& supply,
                                 const core::Settings& settings) {
    return Walk(flashes, supply, settings).verdicts();
}

} // namespace winkhold::reference
