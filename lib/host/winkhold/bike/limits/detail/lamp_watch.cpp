#include "winkhold/bike/limits/detail/lamp_watch.hpp"

#include <algorithm>

namespace winkhold::bike {

LampWatch::LampWatch(const LampPlan& plan, const core::Settings& decoder) : feed_(decoder, plan) {
    for (const core::LampGroup& plays : plan.groups())
        groups_.push_back({plays});
    feed_.on_frame([this](const LampFrame& next) { frame(next); });
}

void LampWatch::feed(const Edge& edge) {
    const bool pressed = edge.lines.has(core::Lines::brake);
    const bool was_pressed = pressed_from_ < presses_.size();
    if (pressed && !was_pressed)
        for (std::size_t i = 0; i < groups_.size(); ++i)
            if (groups_[i].plays.job == core::Job::stop) presses_.push_back({i, edge.t_us, never_us});
    check_flashes(presses_.size());
    feed_.feed(edge);
    answer_presses(edge.t_us); // a lamp that was still lit may need no frame to answer
    if (pressed) return;
    for (; pressed_from_ < presses_.size(); ++pressed_from_)
        presses_[pressed_from_].released_us = edge.t_us;
}

void LampWatch::frame(const LampFrame& frame) {
    bool lit[2]{};
    for (std::size_t i = 0; i < groups_.size(); ++i) {
        Group& group = groups_[i];
        group.at_full = frame.groups[i].lit > 0 && frame.groups[i].level == group.plays.full;
        if (group.plays.job != core::Job::turn) continue;
        turn(i, frame);
        for (const core::Side side : {core::Side::left, core::Side::right})
            lit[static_cast<std::size_t>(side)] |=
                group.lit > 0 && core::shows(frame.shown, side) && core::shows(group.plays.side, side);
    }
    for (const core::Side side : {core::Side::left, core::Side::right})
        side_lit(side, lit[static_cast<std::size_t>(side)], frame.t_us);
    answer_presses(frame.t_us);
}

void LampWatch::turn(std::size_t i, const LampFrame& frame) {
    Group& group = groups_[i];
    const std::uint16_t lit = frame.groups[i].level > 0 ? frame.groups[i].lit : std::uint16_t{0};
    if (lit > 0 && group.lit == 0) {
        group.lit_us.assign(group.plays.count, never_us);
        group.dark_us.assign(group.plays.count, never_us);
    }
    for (std::size_t lamp = group.lit; lamp < lit; ++lamp)
        group.lit_us[lamp] = std::min(group.lit_us[lamp], frame.t_us);
    for (std::size_t lamp = lit; lamp < group.lit; ++lamp)
        group.dark_us[lamp] = std::min(group.dark_us[lamp], frame.t_us);
    const bool ends = lit == 0 && group.lit > 0;
    group.lit = lit;
    if (ends) end_flash(i, frame.t_us);
    const bool shown = (static_cast<unsigned>(frame.shown) & static_cast<unsigned>(group.plays.side)) != 0;
    if (shown || !group.last_flash) return;
    flashes_[*group.last_flash].may_be_cut = true;
    group.last_flash.reset();
}

void LampWatch::end_flash(std::size_t i, TimeUs t_us) {
    LampFlash flash = lamp_flash(groups_[i].lit_us, groups_[i].dark_us, t_us);
    flash.group = i;
    groups_[i].last_flash = flashes_.size();
    flashes_.push_back(flash);
}

void LampWatch::answer_presses(TimeUs t_us) {
    for (std::size_t i = pressed_from_; i < presses_.size(); ++i)
        if (presses_[i].pressed_us <= t_us && groups_[presses_[i].group].at_full)
            presses_[i].lit_us = std::min(presses_[i].lit_us, t_us);
}

void LampWatch::side_lit(core::Side side, bool lit, TimeUs t_us) {
    const auto at = static_cast<std::size_t>(side);
    if (lit == lit_[at]) return;
    lit_[at] = lit;
    if (lit) lights_[at].push_back({.on_us = t_us, .to_end = true});
    check_flashes(lights_[at].size());
    lights_[at].back().off_us = lights_[at].back().last_high_us = t_us;
    lights_[at].back().to_end = lit;
}

void LampWatch::finish(TimeUs end_us, Observed& observed) {
    feed_.finish(end_us);
    for (; pressed_from_ < presses_.size(); ++pressed_from_)
        presses_[pressed_from_].released_us = end_us;
    for (std::size_t i = 0; i < groups_.size(); ++i) {
        if (groups_[i].lit > 0 && groups_[i].plays.job == core::Job::turn) end_flash(i, end_us);
        if (groups_[i].last_flash) flashes_[*groups_[i].last_flash].may_be_cut = true;
    }
    observed.flashes = std::move(flashes_);
    observed.presses = std::move(presses_);
    for (const core::Side side : {core::Side::left, core::Side::right}) {
        std::vector<SeenLight>& lights = lights_[static_cast<std::size_t>(side)];
        if (!lights.empty() && lights.back().to_end)
            lights.back().off_us = lights.back().last_high_us = end_us;
        if (std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
                return group.plays.job == core::Job::turn && core::shows(group.plays.side, side);
            }))
            observed.signals.push_back({SignalOf::lamps, side, std::move(lights)});
    }
}

} // namespace winkhold::bike
