#include "winkhold/bike/checklist/detail/reaction.hpp"

#include "winkhold/bike/lamps/lamp_frames.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::bike {
namespace {

using core::Lines;

constexpr int phases = 32;
constexpr int flashes_before = 6;
constexpr TimeUs quiet_us = 3'000'000;

/// Edges of a flasher that runs through; the movement comes at `act_us`.
Trace played(const Bench& bench, const Act& act, TimeUs start_us, TimeUs act_us) {
    Trace trace;
    const auto lit_us = static_cast<TimeUs>(std::lround(bench.period_us * bench.lit_share));
    const auto moment = [&](int flash) {
        return start_us + static_cast<TimeUs>(std::lround(flash * bench.period_us));
    };
    std::vector<TimeUs> moments{0, act_us};
    const int flashes = flashes_before + 2 + static_cast<int>(quiet_us / bench.period_us);
    for (int flash = 0; flash < flashes; ++flash) {
        moments.push_back(moment(flash));
        moments.push_back(moment(flash) + lit_us);
    }
    std::sort(moments.begin(), moments.end());
    const auto is_lit = [&](TimeUs t_us) {
        if (t_us < start_us) return false;
        const auto flash = static_cast<int>(static_cast<double>(t_us - start_us) / bench.period_us + 1e-6);
        for (int one = std::max(flash - 1, 0); one <= flash + 1; ++one)
            if (t_us >= moment(one) && t_us < moment(one) + lit_us) return true;
        return false;
    };
    for (const TimeUs t_us : moments) {
        const bool after = t_us >= act_us;
        const std::uint8_t sides = after ? act.sides_after : act.sides_before;
        const std::uint8_t taps = after ? act.taps_after : act.taps_before;
        const bool is_up = bench.has_supply_tap && !(after && act.key_off);
        const Edge edge{t_us, Lines(static_cast<std::uint8_t>((is_lit(t_us) ? sides : 0) | taps |
                                                              (is_up ? Lines::supply : 0)))};
        if (trace.edges.empty() || trace.edges.back().lines != edge.lines) trace.edges.push_back(edge);
    }
    trace.end_us = moments.back() + quiet_us;
    return trace;
}

/// Each side of the watched lamps that has groups shows light (stop lamps: all of them in full).
bool is_lit(const LampPlan& plan, const LampFrame& frame, const Watched& watched, bool any) {
    std::uint8_t wanted = 0, lit = 0;
    for (std::size_t i = 0; i < plan.lamps.size(); ++i) {
        const core::LampGroup& plays = plan.lamps[i].plays;
        const auto sides = static_cast<std::uint8_t>(static_cast<std::uint8_t>(plays.side) & watched.sides);
        if (plays.job != watched.job || sides == 0) continue;
        const core::GroupFrame& now = frame.groups[i];
        wanted |= sides;
        const bool full = now.lit == plays.count && now.level == plays.full;
        if (plays.job == core::Job::stop && !any) {
            if (!full) return false;
            lit |= sides;
        } else if (now.lit > 0 && now.level > 0) {
            lit |= sides;
        }
    }
    return any ? lit != 0 : wanted != 0 && lit == wanted;
}

/// From the movement to the answer; 0: nothing was lit that could go dark.
std::optional<double> one_us(const Bench& bench, const Act& act, TimeUs start_us, TimeUs act_us) {
    const Trace trace = played(bench, act, start_us, act_us);
    const bool to_light = act.until == Act::Until::lit;
    bool lit = false;
    TimeUs answer_us = to_light ? never_us : act_us;
    LampPlayer player(bench.decoder, bench.plan);
    player.on_frame([&](const LampFrame& frame) {
        const bool was_lit = lit;
        lit = is_lit(bench.plan, frame, act.watched, !to_light);
        if (to_light && lit && frame.t_us >= act_us) answer_us = std::min(answer_us, frame.t_us);
        if (!to_light && was_lit && !lit) answer_us = std::max(answer_us, frame.t_us);
    });
    for (const Edge& edge : trace.edges) {
        if (to_light && answer_us != never_us) break;
        player.feed(edge);
    }
    if (!to_light || answer_us == never_us) player.finish(trace.end_us);
    const bool has_answer = to_light ? answer_us != never_us : !lit; // or it never goes dark
    return has_answer ? std::optional(static_cast<double>(answer_us - act_us)) : std::nullopt;
}

} // namespace

std::optional<Range> reaction_us(const Bench& bench, const Act& act) {
    std::optional<Range> all;
    const bool flashes = act.sides_before != 0;
    for (int phase = 0; phase < (flashes ? phases : 1); ++phase) {
        const TimeUs start_us = flashes ? 500'000 : quiet_us;
        const TimeUs act_us =
            flashes ? start_us + static_cast<TimeUs>(std::lround(bench.period_us *
                                                                 (flashes_before + (phase + 0.01) / phases)))
                    : quiet_us;
        const std::optional<double> us = one_us(bench, act, start_us, act_us);
        if (!us) return {};
        if (*us == 0) continue;
        if (!all) all = Range{*us, *us};
        all->least = std::min(all->least, *us);
        all->most = std::max(all->most, *us);
    }
    return all;
}

} // namespace winkhold::bike
