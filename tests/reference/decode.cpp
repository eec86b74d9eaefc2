#include "reference/decode.hpp"

#include "reference/sides.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace winkhold::reference {
namespace {

class Walk {
public:
    Walk(const host::Trace& trace, const core::Settings& settings)
        : end_us_(trace.end_us), supply_(stretches(trace, core::Lines::supply)), sides_(settings) {
        for (const Side side : {0, 1})
            phases_[side] =
                settled(stretches(trace, side == 0 ? core::Lines::left : core::Lines::right), settings);
        answers_.emplace_back(trace.edges.front().t_us, core::Indication::off);
    }

    std::vector<Answer> answers() {
        for (TimeUs t_us = next_us(-1); t_us <= end_us_; t_us = next_us(t_us)) {
            const Happening what = happens_at(t_us);
            sides_.at(what, t_us);
            show(what.last_high_us, t_us);
        }
        return answers_;
    }

private:
    /// The next moment at which anything may happen.
    TimeUs next_us(TimeUs t_us) const {
        TimeUs next = never_us;
        const auto consider = [&](TimeUs when_us) {
            if (when_us > t_us) next = std::min(next, when_us);
        };
        for (const auto& phases : phases_)
            for (const OnPhase& phase : phases) {
                consider(phase.rise_us);
                consider(phase.fall_us);
            }
        for (const Stretch& up : supply_) {
            consider(up.from_us);
            consider(up.to_us);
        }
        for (const TimeUs deadline_us : sides_.deadlines_us())
            consider(deadline_us);
        for (const auto& end_us : hold_ends_)
            if (end_us) consider(*end_us);
        return next;
    }

    Happening happens_at(TimeUs t_us) const {
        Happening what{.last_high_us = t_us};
        for (const Stretch& up : supply_) {
            if (up.from_us == t_us) what.supply_rises = true;
            if (up.to_us == t_us) what.supply_falls = true;
        }
        for (const Side side : {0, 1})
            for (const OnPhase& phase : phases_[side]) {
                if (phase.fall_us == t_us) what.falls[side] = true, what.last_high_us = phase.last_high_us;
                if (phase.rise_us == t_us) what.rises[side] = true;
            }
        return what;
    }

    void show(TimeUs last_high_us, TimeUs t_us) {
        unsigned shown = 0;
        for (const Side side : {0, 1}) {
            if (!sides_.asked(side)) {
                held_[side] = false;
            } else if (sides_.burns(side)) {
                held_[side] = true;
                hold_ends_[side].reset();
            } else if (held_[side] && !hold_ends_[side]) {
                hold_ends_[side] = last_high_us + sides_.hold_us(side);
            }
            if (hold_ends_[side] && *hold_ends_[side] <= t_us) held_[side] = false;
            if (!held_[side]) hold_ends_[side].reset();
            if (held_[side]) shown |= 1u << side;
        }
        const auto now = static_cast<core::Indication>(shown);
        if (answers_.back().first == t_us) answers_.back().second = now;
        if (answers_.back().second != now) answers_.emplace_back(t_us, now);
    }

    TimeUs end_us_;
    std::vector<Stretch> supply_;
    std::array<std::vector<OnPhase>, 2> phases_;
    Sides sides_;
    std::array<bool, 2> held_{};
    std::array<std::optional<TimeUs>, 2> hold_ends_;
    std::vector<Answer> answers_;
};

} // namespace

std::vector<Answer> decode(const host::Trace& trace, const core::Settings& settings) {
    if (trace.edges.empty()) return {};
    return Walk(trace, settings).answers();
}

} // namespace winkhold::reference
