#include "winkhold/taps/hindsight/disagreements.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace winkhold::taps {
namespace {

using core::Indication;
using core::Side;

/// A timeline read forwards.
class Reader {
public:
    explicit Reader(const Timeline& timeline) : timeline_(timeline) {}

    Indication at(TimeUs t_us) {
        while (next_ < timeline_.size() && timeline_[next_].t_us <= t_us)
            now_ = timeline_[next_++].indication;
        return now_;
    }

private:
    const Timeline& timeline_;
    std::size_t next_{0};
    Indication now_{Indication::off};
};

/// One side of both answers, followed from moment to moment at which anything changes.
class SideJudge {
public:
    SideJudge(Side side, const Allowance& allowance) : side_(side), allowance_(allowance) {}

    /// What is wrong from `t_us` on.
    std::optional<Disagreement> judge(TimeUs t_us, Indication causal, Indication smoother) {
        const bool shown = core::shows(causal, side_);
        const bool asked = core::shows(smoother, side_);
        const bool other_asked = core::shows(smoother, core::other(side_));
        if (shown && !shown_) shown_from_us_ = t_us;
        if (asked && !asked_) {
            asked_from_us_ = t_us;
            seen_ = false;
        }
        if (!asked && asked_) asked_until_us_ = t_us;
        if (other_asked && !other_asked_) other_from_us_ = t_us;
        shown_ = shown;
        asked_ = asked;
        other_asked_ = other_asked;
        seen_ = seen_ || (asked && shown);
        if (shown == asked) return std::nullopt;
        return asked ? absent(t_us) : surplus(t_us);
    }

private:
    std::optional<Disagreement> absent(TimeUs t_us) const {
        if (t_us < asked_from_us_ + allowance_.acquire_us) return std::nullopt;
        return seen_ ? Disagreement::dropout : Disagreement::late_acquire;
    }

    std::optional<Disagreement> surplus(TimeUs t_us) const {
        if (shown_from_us_ > asked_until_us_) return Disagreement::false_show;
        const auto side = static_cast<std::size_t>(side_);
        const bool one_flash = asked_until_us_ - asked_from_us_ <= allowance_.flash_us[side];
        const bool unknown = one_flash || asked_until_us_ <= allowance_.unknown_until_us;
        const TimeUs release_us = unknown
                                      ? std::max(allowance_.release_us[side], allowance_.unknown_release_us)
                                      : allowance_.release_us[side];
        const bool changed = other_from_us_ >= asked_until_us_;
        // a hazard's other side that carries on tells nothing before it has flashed alone
        const bool carried = other_asked_ && !changed;
        const bool gap_over =
            t_us >= asked_until_us_ + release_us + (carried ? allowance_.carried_us[side] : 0);
        if (!other_asked_) return gap_over ? std::optional(Disagreement::late_release) : std::nullopt;
        const bool handed_over = changed && t_us >= other_from_us_ + allowance_.overlap_us;
        return gap_over || handed_over ? std::optional(Disagreement::overlap) : std::nullopt;
    }

    Side side_;
    const Allowance& allowance_;
    bool shown_{false};
    bool asked_{false};
    bool other_asked_{false};
    bool seen_{false}; ///< shown since it was asked for
    TimeUs shown_from_us_{-never_us};
    TimeUs asked_from_us_{-never_us};
    TimeUs asked_until_us_{-never_us};
    TimeUs other_from_us_{-never_us};
};

/// Every moment at which an answer changes or an allowance ends.
std::vector<TimeUs> find_moments(const Timeline& causal, const Timeline& smoother, const Allowance& allowance,
                                 TimeUs end_us) {
    std::vector<TimeUs> moments;
    for (const IndicationChange& change : causal)
        moments.push_back(change.t_us);
    for (const IndicationChange& change : smoother)
        for (const TimeUs after_us :
             {TimeUs{0}, allowance.acquire_us, allowance.release_us[0], allowance.release_us[1],
              allowance.unknown_release_us, allowance.overlap_us})
            for (const TimeUs more_us : {TimeUs{0}, allowance.carried_us[0], allowance.carried_us[1]})
                moments.push_back(change.t_us + after_us + more_us);
    std::sort(moments.begin(), moments.end());
    moments.erase(std::unique(moments.begin(), moments.end()), moments.end());
    moments.erase(std::lower_bound(moments.begin(), moments.end(), end_us), moments.end());
    return moments;
}

/// Joins what follows without a pause: a hazard's sides seldom go at the same moment.
struct DisagreementList {
    std::vector<Disagreeing> found;
    TimeUs longest_us{0}; ///< of the parts of the last one

    void add(const Disagreeing& part) {
        const bool joins = !found.empty() && found.back().to_us == part.from_us &&
                           found.back().kind == part.kind && found.back().smoother == part.smoother;
        if (!joins) {
            found.push_back(part);
            longest_us = 0;
        }
        Disagreeing& last = found.back();
        last.to_us = part.to_us;
        if (part.to_us - part.from_us <= longest_us) return;
        longest_us = part.to_us - part.from_us;
        last.causal = part.causal;
    }
};

/// The sides that are missing are ended by the smoother itself, right afterwards.
bool is_early(const Disagreeing& found, Indication smoother_next, TimeUs early_us) {
    const int missing = static_cast<int>(found.smoother) & ~static_cast<int>(found.causal);
    return found.kind == Disagreement::dropout && found.to_us - found.from_us <= early_us &&
           (static_cast<int>(smoother_next) & missing) == 0;
}

} // namespace

Allowance allowance(const Smoothed& smoothed, const core::Settings& settings) {
    const TimeUs told_apart_us =
        settings.settle_us + std::max<TimeUs>(hazard_skew_us(settings), core::built_in::blink_us);
    Allowance allowance{
        .acquire_us = told_apart_us, .overlap_us = told_apart_us + 1, .early_us = hazard_skew_us(settings)};
    for (const std::size_t side : {0, 1}) {
        const Rhythms& rhythms = smoothed.rhythms;
        double gap_us = core::built_in::longest_gap_us;
        if (rhythms.gap_seen[side])
            gap_us = std::max(rhythms.of[side][0].longest_gap_us(), rhythms.of[side][1].longest_gap_us());
        if (settings.spread) gap_us += gap_us / 2;
        allowance.release_us[side] =
            static_cast<TimeUs>(std::ceil(gap_us)) + settings.guard_us + settings.settle_us;
        const auto& mine = rhythms.of[side];
        allowance.flash_us[side] =
            static_cast<TimeUs>(std::ceil(std::max(mine[0].longest_on_us(), mine[1].longest_on_us())));
    }
    allowance.carried_us = {allowance.flash_us[1], allowance.flash_us[0]};
    if (settings.rule == core::HoldRule::paced) {
        allowance.unknown_until_us = smoothed.known_from_us;
        allowance.unknown_release_us = TimeUs{settings.hold_us} + settings.settle_us;
    }
    return allowance;
}

std::vector<Disagreeing> disagreements(const Timeline& causal, const Timeline& smoother,
                                       const Allowance& allowance, TimeUs end_us) {
    const std::vector<TimeUs> moments = find_moments(causal, smoother, allowance, end_us);
    Reader causal_answer(causal);
    Reader smoother_answer(smoother);
    SideJudge left(Side::left, allowance);
    SideJudge right(Side::right, allowance);
    DisagreementList list;
    for (std::size_t i = 0; i < moments.size(); ++i) {
        const Indication shown = causal_answer.at(moments[i]);
        const Indication asked = smoother_answer.at(moments[i]);
        const auto on_left = left.judge(moments[i], shown, asked);
        const auto on_right = right.judge(moments[i], shown, asked);
        if (!on_left && !on_right) continue;
        const Disagreement kind = on_left && on_right ? std::min(*on_left, *on_right)
                                  : on_left           ? *on_left
                                                      : *on_right;
        const TimeUs to_us = i + 1 < moments.size() ? moments[i + 1] : end_us;
        list.add({moments[i], to_us, shown, asked, kind});
    }
    std::vector<Disagreeing> found = std::move(list.found);
    Reader afterwards(smoother);
    std::erase_if(found, [&](const Disagreeing& one) {
        return is_early(one, afterwards.at(one.to_us), allowance.early_us);
    });
    return found;
}

} // namespace winkhold::taps
