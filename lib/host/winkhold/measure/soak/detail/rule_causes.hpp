/// Which of the decoder's rules must have acted, by what was drawn and by the settled flashes.
#pragma once

#include "winkhold/measure/soak/detail/evidence.hpp"
#include "winkhold/measure/soak/detail/flash_history.hpp"
#include "winkhold/measure/soak/detail/front_end_delay.hpp"

#include <optional>

namespace winkhold::measure {

/// One ride's findings, each with the rule that must have acted.
class RuleCauses {
public:
    RuleCauses(const SoakRide& soak, const Ride& ride, const Timeline& timeline, const Evidence& evidence)
        : s_(soak.scenario.decoder), contacts_(soak.scenario.contacts), rider_(soak.scenario.rider),
          jitter_(soak.scenario.flasher.jitter_percent / 100), ride_(ride), timeline_(timeline),
          evidence_(evidence), front_(soak) {}

    /// How late a latency is at most; never_us for the others.
    TimeUs limit_us(const Scored& scored) const {
        switch (scored.what) {
        case ScoredWhat::acquire:
            // a contact that has just opened comes to rest before it closes; a hazard's may open late
            return front_.bounce_us +
                   (asked_at(scored.asked->start_us - 1) == core::Indication::hazard
                        ? skew_us(contacts_.fall_skew_us)
                        : 0) +
                   front_.rise_us() + (asks_hazard(scored) ? skew_us(contacts_.rise_skew_us) : 0) +
                   (s_.handover_us != 0 ? TimeUs{core::built_in::blink_us} : 0);
        case ScoredWhat::release: {
            const TimeUs end_us = scored.asked->end_us;
            return std::max<TimeUs>(0, last_light_us(scored.side, end_us) + held_us() - end_us);
        }
        case ScoredWhat::overlap: {
            if (s_.handover_us != 0) return s_.handover_us;
            const TimeUs from_us = scored.change->from_us;
            const TimeUs light_us =
                std::max(last_light_us(core::Side::left, from_us), last_light_us(core::Side::right, from_us));
            return std::max<TimeUs>(0, light_us + held_us() - from_us);
        }
        default:
            return never_us;
        }
    }

    /// When it went wrong at last: of an overlap, when the longest time that both sides were shown ended.
    TimeUs when_us(const Scored& scored) const {
        return scored.what == ScoredWhat::overlap ? both_shown_until_us(*scored.change) : scored.t_us;
    }

    Cause cause(const Scored& scored) {
        if (!flashes_)
            flashes_.emplace(ride_.trace, s_, [this](TimeUs from_us, TimeUs to_us) {
                return switched(from_us, to_us) || evidence_.within(from_us, to_us);
            });
        Cause cause = Cause::unexplained;
        switch (scored.what) {
        case ScoredWhat::dropout:
            cause = dropout(scored);
            break;
        case ScoredWhat::false_show:
            cause = false_show(scored);
            break;
        case ScoredWhat::missed:
        case ScoredWhat::acquire:
            cause = not_shown(scored);
            break;
        case ScoredWhat::release:
        case ScoredWhat::overlap:
            cause = too_long(scored);
            break;
        }
        if (cause != Cause::unexplained) return cause;
        return bounced(when_us(scored)) ? Cause::bounce_beyond_settle : cause;
    }

private:
    /// From the end of a light to that of its hold, at most.
    TimeUs held_us() const { return front_.last_high_us() + skew_us(contacts_.fall_skew_us) + s_.hold_us; }
    /// The end of the last light that was asked for before `t_us`, perhaps after it; -1: none.
    TimeUs last_light_us(core::Side side, TimeUs t_us) const {
        TimeUs last_us = -1;
        for (const Request& request : ride_.truth.requests)
            if (request.start_us < t_us && request.flashes > 0 && core::shows(request.show, side))
                last_us = request.last_light_off_us;
        return last_us;
    }
    TimeUs both_shown_until_us(const Change& change) const {
        TimeUs longest_us = 0;
        TimeUs until_us = change.from_us;
        for (std::size_t i = 0; i < timeline_.size(); ++i) {
            if (timeline_[i].indication != core::Indication::hazard) continue;
            const TimeUs next_us = i + 1 < timeline_.size() ? timeline_[i + 1].t_us : never_us;
            const TimeUs to_us = std::min(next_us, change.to_us);
            const TimeUs lasts_us = to_us - std::max(timeline_[i].t_us, change.from_us);
            if (lasts_us <= longest_us) continue;
            longest_us = lasts_us;
            until_us = to_us;
        }
        return until_us;
    }
    static TimeUs skew_us(const Range& range) { return static_cast<TimeUs>(range.most) + 1; }
    static core::Side other(core::Side side) {
        return side == core::Side::left ? core::Side::right : core::Side::left;
    }
    bool asks_hazard(const Scored& scored) const {
        return asked_at(scored.asked->start_us) == core::Indication::hazard;
    }

    core::Indication asked_at(TimeUs t_us) const {
        for (const Request& request : ride_.truth.requests)
            if (request.start_us <= t_us && t_us < request.end_us) return request.show;
        return core::Indication::off;
    }
    /// The rider's switch moved within [from_us, to_us].
    bool switched(TimeUs from_us, TimeUs to_us) const {
        for (const Request& request : ride_.truth.requests)
            for (const TimeUs t_us : {request.start_us, request.end_us})
                if (from_us <= t_us && t_us <= to_us) return true;
        return false;
    }
    bool bounced(TimeUs t_us) const {
        const TimeUs window_us = front_.bounce_us + front_.filter_fall_us + front_.settle_us;
        return front_.bounce_may_settle() && flashes_->pieces(window_us, t_us + window_us);
    }
    /// Around `t_us` the switch closed the new contact before the old one opened, or so fast that bounce and
    /// filter made both sides read lit at once.
    bool both_closed(TimeUs t_us) const {
        const auto closed_us = static_cast<TimeUs>(-rider_.transit_us.least);
        const TimeUs delay_us = front_.rise_us() + front_.last_high_us();
        if (closed_us > 0 && switched(t_us - closed_us - delay_us, t_us)) return true;
        for (const Request& request : ride_.truth.requests)
            if (t_us - delay_us <= request.start_us && request.start_us <= t_us)
                for (const core::Side side : {core::Side::left, core::Side::right}) {
                    const SettledFlash* const next = flashes_->next(side, request.start_us);
                    if (next != nullptr && next->rise_us <= request.start_us + delay_us &&
                        flashes_->lit(other(side), next->rise_us))
                        return true;
                }
        return false;
    }

    /// In a hazard the light of either side counts for both.
    Cause dropout(const Scored& scored) const {
        const TimeUs t_us = scored.t_us;
        for (const core::Side lit : {scored.side, other(scored.side)}) {
            const SettledFlash* flash = flashes_->last(lit, t_us);
            while (flash != nullptr && (lit == scored.side || in_hazard(*flash, scored.side, t_us))) {
                if (const Cause cause = dropout_after(*flash, scored, lit); cause != Cause::unexplained)
                    return cause;
                const SettledFlash* const beside = flashes_->last(other(lit), std::min(flash->fell_us, t_us));
                if (beside != nullptr && beside->fell_us > flash->rise_us &&
                    in_hazard(*beside, scored.side, t_us))
                    if (const Cause cause = dropout_after(*beside, scored, other(lit));
                        cause != Cause::unexplained)
                        return cause;
                // what stood for a blink at most may not count, or not yet: the flash before may have ended
                if (std::min(flash->fell_us, t_us) - flash->rise_us > TimeUs{core::built_in::blink_us}) break;
                flash = flashes_->last(lit, flash->rise_us - 1);
            }
        }
        return Cause::unexplained;
    }

    bool in_hazard(const SettledFlash& flash, core::Side side, TimeUs t_us) const {
        return s_.handover_us != 0 &&
               (asked_at(t_us) == core::Indication::hazard ||
                asked_at(flash.rise_us) == core::Indication::hazard ||
                asked_at(flash.rise_us - front_.rise_us()) == core::Indication::hazard ||
                hazard_held(side, t_us));
    }

    /// `flash` of `lit` is the one after which the indication went.
    Cause dropout_after(const SettledFlash& flash, const Scored& scored, core::Side lit) const {
        const TimeUs t_us = scored.t_us;
        const bool dark = flash.fell_us <= t_us;
        const TimeUs dark_us = t_us - flash.last_high_us;
        if (dark && dark_us == TimeUs{s_.hold_us}) return silence(scored, flash);
        // what was lit for less than a blink is known to be cut short later, once its beat is over; and none
        // is let go while the other side is lit, or in a hazard before that one is
        const SettledFlash* const rival = flashes_->last(other(lit), t_us);
        const bool stub = flash.last_high_us - flash.rise_us < TimeUs{core::built_in::blink_us};
        if (dark && s_.cut_short &&
            (stub || t_us == flash.fell_us ||
             (rival != nullptr && (t_us == rival->fell_us ||
                                   t_us - rival->last_high_us == TimeUs{core::built_in::longest_gap_us})) ||
             dark_us == std::max<TimeUs>(s_.settle_us, core::built_in::blink_us)))
            if (const Cause cause = cut(scored, flash); cause != Cause::unexplained) return cause;
        if (s_.handover_us != 0)
            if (const Cause cause = pushed_out(scored, flash); cause != Cause::unexplained) return cause;
        return dark && s_.rule == core::HoldRule::paced ? silence(scored, flash) : Cause::unexplained;
    }

    /// A hold ran out in the dark.
    Cause silence(const Scored& scored, const SettledFlash& flash) const {
        const TimeUs dark_us = scored.t_us - flash.last_high_us;
        const bool by_switch = switched(flash.rise_us, scored.t_us);
        if (dark_us == TimeUs{s_.hold_us}) return by_switch ? Cause::gap_by_switch : Cause::gap_beyond_hold;
        // a measured gap serves until enough is known, and while the rhythm is not trusted
        const std::uint32_t quarter_us = s_.spread ? s_.gap_prior_us >> 2 : 0;
        if (s_.gap_prior_us != 0 && dark_us == TimeUs{s_.gap_prior_us + quarter_us + s_.guard_us})
            return by_switch ? Cause::gap_by_switch : Cause::not_learned;
        // the longest of the last 24 gaps and guard are bridged always
        const Learnable known = flashes_->before(flash.rise_us);
        const TimeUs longest_us = known.gaps > 0 ? known.longest_gap_us : TimeUs{s_.gap_prior_us};
        if (dark_us < longest_us + s_.guard_us) return Cause::unexplained;
        if (by_switch) return Cause::gap_by_switch;
        return known.gaps < 4 ? Cause::not_learned : Cause::gap_beyond_learned;
    }

    /// Only a flash shorter than one that was learned, by more than the margin, is cut.
    Cause cut(const Scored& scored, const SettledFlash& flash) const {
        const Learnable known = flashes_->before(flash.rise_us);
        const TimeUs on_us = flash.last_high_us - flash.rise_us;
        if (on_us < TimeUs{core::built_in::blink_us} && hardly_settles()) return Cause::too_short_to_settle;
        if (known.on_times < 2 || on_us + s_.cut_margin_us >= known.longest_on_us) return Cause::unexplained;
        if (bounced(scored.t_us)) return Cause::bounce_beyond_settle;
        if (switched(flash.rise_us - front_.rise_us(), scored.t_us)) return Cause::cut_by_switch;
        return Cause::flash_beyond_learned;
    }

    /// With the jitter of one flash in a hundred, a light stands for less than a blink.
    bool hardly_settles() const {
        return ride_.bike.on_us * (1 - 2.6 * jitter_) <
               static_cast<double>(front_.rise_us() + core::built_in::blink_us);
    }

    /// The other side took over, or stayed lit while this one was dark.
    Cause pushed_out(const Scored& scored, const SettledFlash& flash) const {
        const TimeUs t_us = scored.t_us;
        const SettledFlash* const rival = flashes_->last(other(scored.side), t_us);
        if (rival == nullptr) return Cause::unexplained;
        const TimeUs since_us = t_us - rival->rise_us;
        if (let_go_beside(flash, *rival, t_us) && hazard_runs(scored.side, t_us)) return Cause::flashed_alone;
        const bool rise_window = since_us == 0 || since_us == TimeUs{core::built_in::blink_us};
        const bool fall_window = flash.fell_us <= t_us && rival->fell_us > t_us;
        // who is lit and came later is pushed out by nobody
        if (flash.fell_us > t_us && flash.rise_us > rival->rise_us) return Cause::unexplained;
        if (!rise_window && !fall_window) return Cause::unexplained;
        const bool hazard = asked_at(t_us) == core::Indication::hazard;
        const TimeUs period_us = static_cast<TimeUs>(ride_.bike.period_us() * 2) + front_.rise_us();
        if (switched(t_us - period_us, t_us) && hazard) return Cause::hazard_joined;
        if (both_closed(t_us)) return Cause::both_contacts_closed;
        if (!hazard) return rise_window ? Cause::taken_over : Cause::fall_pending;
        const TimeUs uneven_us = front_.bounce_us + front_.filter_fall_us + front_.settle_us;
        if (rise_window && skew_us(contacts_.rise_skew_us) + uneven_us > TimeUs{s_.handover_us})
            return Cause::rise_skew_beyond_handover;
        if (fall_window && s_.fall_window_us != 0 &&
            skew_us(contacts_.fall_skew_us) + uneven_us > TimeUs{std::min(s_.fall_window_us, s_.handover_us)})
            return Cause::fall_skew_beyond_window;
        return fall_skew_fills_dark() ? Cause::fall_skew_fills_dark : Cause::unexplained;
    }

    /// A hazard's side goes: dark for three quarters of the other's light as that ends, for 250 ms of it, or
    /// for 1 s, in which the other one has flashed; or its first light was no more than a flick.
    bool let_go_beside(const SettledFlash& flash, const SettledFlash& rival, TimeUs t_us) const {
        using namespace core::built_in;
        const TimeUs lit_us = t_us - rival.rise_us;
        const TimeUs dark_us = t_us - flash.last_high_us;
        if (flash.fell_us > t_us) return false;
        if (t_us == rival.fell_us && lit_us > TimeUs{s_.handover_us} && 4 * dark_us >= 3 * lit_us)
            return true;
        if (dark_us == TimeUs{longest_gap_us})
            return std::min(t_us, rival.last_high_us) > flash.last_high_us + s_.fall_window_us;
        if (t_us > rival.fell_us) return false;
        return (lit_us == TimeUs{lone_flash_us} && dark_us >= lit_us) ||
               t_us == flash.rise_us + 2 * TimeUs{blink_us};
    }

    /// With the jitter of one flash in a hundred, a side that falls late is hardly dark before it lights
    /// again.
    bool fall_skew_fills_dark() const {
        const double jitter = 2.6 * jitter_;
        const auto dark_us = static_cast<TimeUs>(ride_.bike.dark_us * (1 - jitter));
        return dark_us < skew_us(contacts_.fall_skew_us) + front_.last_high_us() + core::built_in::blink_us +
                             std::max<TimeUs>(s_.settle_us, s_.handover_us);
    }

    Cause false_show(const Scored& scored) const {
        const TimeUs delay_us = front_.rise_us() + front_.last_high_us() + skew_us(contacts_.fall_skew_us);
        if (both_closed(scored.t_us)) return Cause::both_contacts_closed;
        const SettledFlash* const flash = flashes_->last(scored.side, scored.t_us);
        if (flash != nullptr && flash->rise_us == scored.t_us) {
            // its lamp was lit when it rose: only the front end's delay makes it look false
            for (const Request& request : ride_.truth.requests)
                if (core::shows(request.show, scored.side) && request.flashes > 0 &&
                    request.last_light_off_us <= scored.t_us &&
                    scored.t_us < request.last_light_off_us + delay_us)
                    return Cause::too_short_to_settle;
        }
        if (s_.handover_us == 0) return Cause::unexplained;
        // a newcomer has to stand for a blink, which may end after it is asked for
        if (flash != nullptr && flash->rise_us + TimeUs{core::built_in::blink_us} == scored.t_us &&
            switched(flash->rise_us - front_.rise_us(), scored.t_us))
            return Cause::handover_pending;
        const SettledFlash* const rival = flashes_->last(other(scored.side), scored.t_us);
        if (rival == nullptr) return Cause::unexplained;
        if (flash != nullptr && std::max(flash->rise_us, rival->rise_us) == scored.t_us &&
            std::abs(flash->rise_us - rival->rise_us) <= TimeUs{s_.handover_us})
            return Cause::handover_pending;
        return rival->rise_us == scored.t_us && hazard_held(scored.side, scored.t_us) ? Cause::hazard_held
                                                                                      : Cause::unexplained;
    }

    /// Missed, or acquired late.
    Cause not_shown(const Scored& scored) const {
        const TimeUs from_us = scored.asked->first_light_us;
        const SettledFlash* const next = flashes_->next(scored.side, from_us - 1);
        const TimeUs by_us = from_us + front_.rise_us() + skew_us(contacts_.rise_skew_us);
        const TimeUs rose_us = flashes_->lit(scored.side, from_us) ? from_us
                               : next == nullptr                   ? never_us
                                                                   : next->rise_us;
        if (both_closed(by_us)) return Cause::both_contacts_closed;
        if (rose_us > std::min(scored.asked->end_us, by_us) || rose_us >= scored.asked->shown_by_us)
            return Cause::too_short_to_settle;
        const SettledFlash* const first = flashes_->last(scored.side, rose_us);
        const bool ended_hidden =
            first != nullptr && first->fell_us - first->rise_us <= TimeUs{core::built_in::blink_us};
        if (s_.handover_us != 0 &&
            (ended_hidden || scored.t_us - rose_us <= TimeUs{core::built_in::blink_us}))
            return Cause::handover_pending;
        return Cause::unexplained;
    }

    /// Released late, or overlapping too long.
    Cause too_long(const Scored& scored) const {
        const bool overlap = scored.what == ScoredWhat::overlap;
        const TimeUs changed_us = overlap ? scored.change->from_us : scored.asked->end_us;
        const TimeUs gone_us = overlap ? when_us(scored) : changed_us + scored.value_us;
        // a flick: the change before it may still be told, or the last light of the two flashes after it held
        const auto two_flashes_us = static_cast<TimeUs>(2 * ride_.bike.period_us());
        const TimeUs from_us =
            std::min(changed_us, gone_us - s_.hold_us - front_.last_high_us()) - two_flashes_us;
        if (both_closed(changed_us)) return Cause::both_contacts_closed;
        for (const Request& request : ride_.truth.requests)
            if (from_us <= request.start_us && request.start_us < gone_us && both_closed(request.start_us))
                return Cause::both_contacts_closed;
        const auto held = [&](core::Side side) { return hazard_held(side, gone_us); };
        return (overlap ? held(core::Side::left) || held(core::Side::right) : held(scored.side))
                   ? Cause::hazard_held
                   : Cause::unexplained;
    }

    /// In a hazard one light counts for both sides until the other side has flashed alone, with this one dark
    /// all through; up to twice more if it then came too soon to be a flash of its own. A flash no longer
    /// than the handover window says nothing.
    bool hazard_runs(core::Side side, TimeUs t_us) const {
        if (s_.handover_us == 0) return false;
        const SettledFlash* flash = flashes_->last(other(side), t_us);
        for (int alone = 0; alone <= 3 && flash != nullptr;) {
            const bool together = flashes_->risen_within(side, flash->rise_us, TimeUs{s_.handover_us});
            const bool hazard = asked_at(flash->rise_us - front_.rise_us()) == core::Indication::hazard;
            if (together || (hazard && flashes_->lit_between(side, flash->rise_us, flash->fell_us)))
                return true;
            if (flash->fell_us - flash->rise_us > TimeUs{s_.handover_us}) ++alone;
            flash = flashes_->last(other(side), flash->rise_us - 1);
        }
        return false;
    }

    /// `side` is held through these flashes, and their silence.
    bool hazard_held(core::Side side, TimeUs t_us) const {
        const SettledFlash* const flash = flashes_->last(other(side), t_us);
        return flash != nullptr && t_us - TimeUs{s_.hold_us} <= flash->last_high_us &&
               hazard_runs(side, t_us);
    }

    const core::Settings& s_;
    const ContactModel& contacts_;
    const RiderModel& rider_;
    double jitter_;
    const Ride& ride_;
    const Timeline& timeline_;
    const Evidence& evidence_;
    FrontEndDelay front_;
    std::optional<FlashHistory> flashes_; ///< only of rides with findings
};

} // namespace winkhold::measure
