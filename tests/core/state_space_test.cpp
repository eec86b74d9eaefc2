// Every state that the decoder can get into on a coarse clock, and every input in each of them.
//
// A tick is 200 ms, so that each limit of the core is a small number of ticks (1 s: 5, 3 s: 15) and a whole
// number of the units in which times are learned. A state is what later answers hang on, with moments as
// ages. Which members those are is checked, not trusted: whenever two decoders come to one state, all inputs
// must get the same answers from both and lead both to the same states.
//
// This file alone is compiled without access control: the state of a decoder is nobody's business but a
// proof's.
#include "winkhold/core/core.hpp"

#include <array>
#include <cstdio>
#include <deque>
#include <gtest/gtest.h>
#include <string>
#include <unordered_map>
#include <utility>

namespace {

namespace core = winkhold::core;
using core::Indication;
using core::Side;

constexpr std::uint32_t tick_us = 200'000;
constexpr std::uint32_t hold_ticks = 6;
constexpr std::uint32_t handover_ticks = 2;
constexpr std::uint8_t unexplained = 99;
constexpr std::uint8_t flash_ticks = core::built_in::longest_gap_us / tick_us; ///< on for longer is no flash

core::Settings coarse(core::HandoverEnd end) {
    core::Settings s;
    s.settle_us = tick_us;
    s.hold_us = hold_ticks * tick_us;
    s.handover_us = handover_ticks * tick_us;
    s.fall_window_us = 3 * tick_us;
    s.cut_margin_us = tick_us;
    s.rule = core::HoldRule::fixed;
    s.cut_short = s.spread = false;
    s.handover_end = end;
    return s;
}

core::Settings learning() {
    core::Settings s = coarse(core::HandoverEnd::at_once);
    s.rule = core::HoldRule::paced;
    s.guard_us = tick_us;
    s.cut_short = true;
    return s;
}

std::uint8_t mirrored(std::uint8_t bits) {
    return static_cast<std::uint8_t>((bits & 1u) << 1 | (bits & 2u) >> 1);
}
Indication mirrored(Indication shown) {
    return static_cast<Indication>(mirrored(static_cast<std::uint8_t>(shown)));
}

/// Writes what later answers hang on.
class Key {
public:
    explicit Key(core::Micros now) : now_(core::moment(now)) {}

    void put(std::uint32_t value) {
        bytes_.push_back(static_cast<char>(value));
        bytes_.push_back(static_cast<char>(value >> 8));
    }
    /// Ages above `most` ticks make no difference.
    void age(core::Moment then, std::uint32_t most) {
        put(std::min(core::elapsed_us(now_, then) / tick_us, most));
    }
    void left(core::Moment deadline) { put(core::elapsed_us(deadline, now_) / tick_us); }

    void put(const core::RecentDurations& durations) {
        for (const std::uint16_t units : durations.units_)
            put(units);
    }
    void put(const core::Settle& settle) {
        put(static_cast<std::uint8_t>(settle.state_));
        if (settle.timer().armed) left(settle.timer().at);
    }
    void put(const core::Hold& hold) {
        put(static_cast<std::uint8_t>(hold.state_));
        if (hold.timer().armed) left(hold.timer().at);
    }
    void put(const core::Cadence& cadence, bool learns) {
        put(cadence.on_ | cadence.timing_ << 1 | cadence.resumable_ << 2);
        if (cadence.timing_)
            age(cadence.rose_, cadence.on_ || (learns && cadence.pending_on_ != 0) ? 20 : flash_ticks + 1);
        if (cadence.timing_ && !cadence.on_) age(cadence.last_high_, 9);
        if (!learns) return;
        put(cadence.gaps_);
        put(cadence.on_times_);
        put(cadence.jitter_);
        put(cadence.pending_on_);
        put(cadence.short_on_);
        put(cadence.chatter_left_);
        put(cadence.doubt_);
        put(cadence.first_ | cadence.first_only_ << 1 | cadence.cut_ << 2 |
            (cadence.pending_on_ != 0 && cadence.short_) << 3);
    }
    void put(const core::Decoder& decoder) {
        const bool learns = decoder.settings().cut_short || decoder.settings().rule == core::HoldRule::paced;
        for (int i = 0; i < 2; ++i) {
            put(decoder.turn_[i].settle_);
            put(decoder.turn_[i].hold_);
            put(decoder.intent_.lines_[i], learns);
        }
        const core::Intent& intent = decoder.intent_;
        put(intent.last_risen_ | intent.hidden_ << 2 | intent.gone_ << 4);
        put(static_cast<std::uint8_t>(intent.window_));
        if (intent.window_ != core::Intent::Window::none) {
            put(static_cast<std::uint8_t>(intent.subject_));
            left(intent.window_ends_);
        }
    }
    std::string take() { return std::move(bytes_); }

private:
    core::Moment now_;
    std::string bytes_;
};

/// A decoder, its mirrored twin, and what a bystander has seen of the settled lines.
struct World {
    explicit World(const core::Settings& s) : decoder(s), twin(s) {}

    core::Decoder decoder;
    core::Decoder twin;
    core::Micros now{0u - 3'000'000u}; ///< the clock wraps on the way
    std::array<std::uint8_t, 2> rose_ago{99, 99};
    std::array<bool, 2> on{};
    bool pair{false};         ///< at the last rise both sides rose as one or were lit at once
    std::uint8_t unproven{0}; ///< ticks that the present hazard has been shown without such a proof
    bool proven{false}; ///< the present hazard has been seen with both sides risen as one or lit at once

    void step(std::uint8_t lines) {
        now = core::after(now, tick_us);
        decoder.step(now, core::Lines(lines));
        twin.step(now, core::Lines(mirrored(lines)));
        const bool pair_before = pair;
        for (std::uint8_t i = 0; i < 2; ++i) {
            const bool on_now = decoder.line(static_cast<Side>(i)).on();
            if (on_now && !on[i])
                rose_ago[i] = 0;
            else if (rose_ago[i] <= 20)
                ++rose_ago[i];
            on[i] = on_now;
        }
        if (rose_ago[0] == 0 || rose_ago[1] == 0) pair = proof();
        const bool hazard = decoder.indication() == Indication::hazard;
        proven = hazard && (proven || proof());
        if (!hazard || proven)
            unproven = 0;
        else // after a pair a side alone may be half of the next one until the window ends
            unproven = static_cast<std::uint8_t>(unproven == 0 && !pair_before ? unexplained : unproven + 1);
    }
    /// What makes a hazard: both sides have risen as one, or are lit at once.
    bool proof() const {
        return (lit(0) && lit(1)) || (rose_ago[0] == 0 && rose_ago[1] <= handover_ticks) ||
               (rose_ago[1] == 0 && rose_ago[0] <= handover_ticks);
    }
    bool lit(int i) const { return on[i] && rose_ago[i] <= flash_ticks; }
    bool stuck(int i) const { return on[i] && rose_ago[i] > flash_ticks; }

    std::string key() const {
        Key key(now);
        key.put(decoder);
        for (std::uint8_t i = 0; i < 2; ++i)
            key.put(std::min<std::uint32_t>(rose_ago[i], on[i] ? flash_ticks + 1u : handover_ticks + 1u));
        key.put(pair | proven << 1 | unproven << 2);
        return key.take();
    }
};

struct Walk {
    core::Settings settings;
    std::size_t most_states;
    struct Reached {
        World world;
        std::string story; ///< the inputs that lead here, one digit a tick
        std::string key;
    };
    std::deque<Reached> reached{};
    std::unordered_map<std::string, std::size_t> index{};
    std::size_t transitions{0};
    bool closed{true};

    void run() {
        const World start(settings);
        add(start, "");
        for (std::size_t i = 0; i < reached.size() && !::testing::Test::HasFailure(); ++i) {
            check_silence(reached[i]);
            for (std::uint8_t lines = 0; lines < 4; ++lines) {
                World next = reached[i].world;
                next.step(lines);
                ++transitions;
                const std::string story = reached[i].story + static_cast<char>('0' + lines);
                check_step(next, lines, story);
                if (::testing::Test::HasFailure()) return;
                add(next, story);
            }
        }
        std::printf("%zu states, %zu transitions, %s\n", reached.size(), transitions,
                    closed ? "closed" : "not closed");
    }

    void add(const World& world, const std::string& story) {
        std::string key = world.key();
        const auto known = index.find(key);
        if (known != index.end()) return check_same(reached[known->second], world, story);
        if (reached.size() == most_states) {
            closed = false;
            return;
        }
        index.emplace(key, reached.size());
        reached.push_back({world, story, std::move(key)});
    }

    /// The key leaves out nothing that matters.
    void check_same(const Reached& one, const World& other, const std::string& story) {
        EXPECT_EQ(one.world.decoder.indication(), other.decoder.indication())
            << one.story << " and " << story;
        for (std::uint8_t lines = 0; lines < 4; ++lines) {
            World a = one.world, b = other;
            a.step(lines);
            b.step(lines);
            EXPECT_EQ(a.decoder.indication(), b.decoder.indication())
                << one.story << " and " << story << ", then " << int{lines};
            EXPECT_EQ(a.key(), b.key()) << one.story << " and " << story << ", then " << int{lines};
        }
    }

    void check_silence(const Reached& from) {
        core::Decoder decoder = from.world.decoder;
        for (std::uint32_t tick = 1; tick <= 1 + hold_ticks; ++tick)
            decoder.step(core::after(from.world.now, tick * tick_us), core::Lines{});
        EXPECT_EQ(decoder.indication(), Indication::off) << "silence after " << from.story;
    }

    void check_step(const World& next, std::uint8_t lines, const std::string& story) {
        const Indication now = next.decoder.indication();
        EXPECT_EQ(next.twin.indication(), mirrored(now)) << "mirrored: " << story;

        core::Decoder again = next.decoder;
        EXPECT_EQ(again.step(next.now, core::Lines(lines)), now)
            << "a second change at one moment: " << story;
        EXPECT_EQ(again.step(core::after(next.now, tick_us / 2), core::Lines(lines)), now)
            << "a change that no edge and no whole tick explains: " << story;

        if (settings.handover_end == core::HandoverEnd::at_once) {
            EXPECT_LE(next.unproven, handover_ticks) << "hazard that nobody pressed: " << story;
        }
        const std::uint8_t patience = settings.handover_end == core::HandoverEnd::delay ? handover_ticks : 0;
        for (std::uint8_t i = 0; i < 2; ++i)
            if (next.lit(i) && next.stuck(1 - i) && next.rose_ago[i] >= patience) {
                EXPECT_TRUE(shows(now, static_cast<Side>(i))) << "beside a stuck line: " << story;
            }
    }
};

class FixedHold : public ::testing::TestWithParam<core::HandoverEnd> {};

INSTANTIATE_TEST_SUITE_P(Handover, FixedHold,
                         ::testing::Values(core::HandoverEnd::at_once, core::HandoverEnd::both,
                                           core::HandoverEnd::delay));

TEST_P(FixedHold, WalkedToTheLastState) {
    Walk walk{coarse(GetParam()), 400'000};
    ASSERT_EQ(core::check(walk.settings), core::SettingsError::none);
    walk.run();
    EXPECT_TRUE(walk.closed);
    EXPECT_GT(walk.reached.size(), 1'000u);
}

TEST(StateSpace, PacedAndCutShortWalkedAsFarAsTheFirst100000States) {
    Walk walk{learning(), 100'000};
    ASSERT_EQ(core::check(walk.settings), core::SettingsError::none);
    walk.run();
    EXPECT_EQ(walk.reached.size(), walk.most_states);
}

} // namespace
