// The reference decoder, written from the words of lib/core/README.md, and the core give the same answers.
#include "reference/decode.hpp"
#include "sweep/random_rides.hpp"
#include "winkhold/taps/trace/settled_edges.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <string>

namespace winkhold::testing {
namespace {

struct Case {
    host::Trace trace;
    core::Settings settings;
};

/// Now and then settings far beyond what suits a bike, up to the end of their ranges.
core::Settings wider(core::Settings s, RandomStream& random) {
    const auto now_and_then = [&](std::uint32_t& time_us, TimeUs most_us) {
        if (random.whole(0, 9) == 0) time_us = static_cast<std::uint32_t>(random.whole(0, most_us));
    };
    now_and_then(s.settle_us, 1'000'000);
    now_and_then(s.pwm_gap_us, 1'000'000);
    now_and_then(s.hold_us, 5'000'000);
    now_and_then(s.guard_us, 5'000'000);
    now_and_then(s.handover_us, 980'000);
    now_and_then(s.fall_window_us, 980'000);
    now_and_then(s.cut_margin_us, 1'000'000);
    now_and_then(s.supply_gone_us, 1'000'000);
    const std::uint32_t least_us = std::max({s.settle_us, s.pwm_gap_us, 10'000u});
    s.hold_us = std::max(s.hold_us, least_us);
    if (s.gap_prior_us != 0) s.gap_prior_us = std::max(s.gap_prior_us, least_us);
    return s;
}

/// Rounds all times to `grid_us`, so that many things happen at the same moment. Of the edges that fall
/// together the last counts.
Case on_grid(Case one, std::uint32_t grid_us) {
    core::Settings& s = one.settings;
    for (std::uint32_t* time_us : {&s.settle_us, &s.pwm_gap_us, &s.hold_us, &s.guard_us, &s.gap_prior_us,
                                   &s.handover_us, &s.fall_window_us, &s.cut_margin_us, &s.supply_gone_us})
        *time_us = (*time_us + grid_us / 2) / grid_us * grid_us;
    std::vector<host::Edge> edges;
    for (host::Edge edge : one.trace.edges) {
        edge.t_us = edge.t_us / grid_us * grid_us;
        if (!edges.empty() && edges.back().t_us == edge.t_us) edges.pop_back();
        edges.push_back(edge);
    }
    one.trace.edges = edges;
    return one;
}

/// Twice nothing happens for hours, or for nearly as long as the core's 32-bit clock takes to wrap.
Case with_pauses(Case one, RandomStream& random) {
    constexpr TimeUs wrap_us = TimeUs{1} << 32;
    for (int i = 0; i < 2; ++i) {
        const TimeUs pause_us = random.whole(0, 1) == 0 ? random.whole(0, 3 * wrap_us)
                                                        : wrap_us + random.whole(-100'000, 100'000);
        const auto from = random.whole(0, std::ssize(one.trace.edges) - 1);
        for (auto edge = one.trace.edges.begin() + from; edge != one.trace.edges.end(); ++edge)
            edge->t_us += pause_us;
        one.trace.end_us += pause_us;
    }
    return one;
}

/// One in three is noise, the rest are rides on all three flasher models; every second one is on a grid,
/// and two in five have long pauses.
Case draw(std::uint64_t trial) {
    RandomStream random(31, trial);
    Case one;
    one.settings = wider(random_settings(random), random);
    if (trial % 3 == 0) {
        one.trace = noise(random).trace;
    } else {
        const auto model = static_cast<host::SideChange>(random.whole(0, 2));
        one.trace = host::RideMaker(random_scenario(random, model)).make(32, trial).trace;
    }
    if (trial % 5 < 2) one = with_pauses(one, random);
    return trial % 2 == 0 ? one : on_grid(one, trial % 4 == 1 ? 5'000 : 10'000);
}

std::vector<reference::Answer> by_core(const Case& one) {
    std::vector<reference::Answer> answers;
    for (const host::IndicationChange& change : host::decode(one.trace, one.settings))
        answers.emplace_back(change.t_us, change.indication);
    return answers;
}

std::vector<reference::Answer> by_reference(const Case& one) {
    return reference::decode(one.trace, one.settings);
}

bool differ(const Case& one) {
    return !one.trace.edges.empty() && by_core(one) != by_reference(one);
}

/// Leaves out edges, one at a time, as long as the two still differ.
Case shortest(Case one) {
    for (std::size_t i = 0; i < one.trace.edges.size();) {
        Case without = one;
        without.trace.edges.erase(without.trace.edges.begin() + static_cast<std::ptrdiff_t>(i));
        if (differ(without)) {
            one = without;
            i = 0;
        } else {
            ++i;
        }
    }
    return one;
}

std::string told(const std::vector<reference::Answer>& answers) {
    std::string text;
    for (const auto& [t_us, indication] : answers)
        text += fmt::format(" {}:{}", t_us, static_cast<int>(indication));
    return text;
}

std::string told(const Case& one) {
    const core::Settings& s = one.settings;
    std::string text = fmt::format(
        "settings in us: settle {} pwm_gap {} hold {} guard {} gap_prior {} handover {} fall_window {} "
        "cut_margin {} supply_gone {}; {}{}{}",
        s.settle_us, s.pwm_gap_us, s.hold_us, s.guard_us, s.gap_prior_us, s.handover_us, s.fall_window_us,
        s.cut_margin_us, s.supply_gone_us, s.rule == core::HoldRule::fixed ? "fixed" : "paced",
        s.cut_short ? " cut-short" : "", s.spread ? " spread" : "");
    text += "\nlines (time in us:mask):";
    for (const host::Edge& edge : one.trace.edges)
        text += fmt::format(" {}:{}", edge.t_us, edge.lines.bits());
    return text + fmt::format(" end {}\ncore:     {}\nreference:{}", one.trace.end_us, told(by_core(one)),
                              told(by_reference(one)));
}

/// One side of a hazard comes back as late as the rhythm does not explain, so it counts after a blink: at the
/// very moment at which the other one has been dark for longer than any gap. Left and right must not differ.
TEST(Reference, ABlinkAndALongestGapThatEndTogetherAreMirrored) {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.hold_us = 1'050'000;
    settings.settle_us = 0;
    const auto ride = [&](std::uint8_t comes_back) {
        Case one{{}, settings};
        TimeUs t_us = 0;
        const auto then = [&](TimeUs after_us, std::uint8_t bits) {
            one.trace.edges.push_back({t_us += after_us, core::Lines(bits)});
        };
        then(0, 0);
        for (int flash = 0; flash < 4; ++flash) {
            then(300'000, 3);
            then(240'000, 0);
        }
        then(960'000, comes_back);
        one.trace.end_us = t_us + 300'000;
        return one;
    };
    for (const std::uint8_t side : {1, 2}) {
        const auto answers = by_core(ride(side));
        EXPECT_EQ(answers, by_reference(ride(side))) << told(ride(side));
        ASSERT_EQ(answers.size(), 3u);
        EXPECT_EQ(answers.back(), reference::Answer(3'160'000, static_cast<core::Indication>(side)));
    }
}

/// More of them take minutes: tests/long.sh.
std::uint64_t trials() {
    const char* const given = std::getenv("WINKHOLD_TRACES");
    return given == nullptr ? 100'000 : std::stoull(given);
}

TEST(Reference, EqualsTheCoreOn100000RandomTraces) {
    ASSERT_GE(trials(), 100'000u);
    for (std::uint64_t trial = 0; trial < trials(); ++trial) {
        const Case one = draw(trial);
        ASSERT_EQ(core::check(one.settings), core::SettingsError::none) << "trial " << trial;
        ASSERT_FALSE(differ(one)) << "trial " << trial << ", shortened\n" << told(shortest(one));
    }
}

} // namespace
} // namespace winkhold::testing
