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
constexpr std::uint8_t flash_ticks = core::built_in::longest_gap_us / tick_us; ///< on for longer is no flash

core::Settings learning() {
    core::Settings s;
    s.settle_us = tick_us;
    s.hold_us = hold_ticks * tick_us;
    s.handover_us = handover_ticks * tick_us;
    s.fall_window_us = 3 * tick_us;
    s.cut_margin_us = tick_us;
    s.guard_us = tick_us;
    return s;
}

/// No rule but the hold, whose answer hangs on nothing learned.
core::Settings plain() {
    core::Settings s = learning();
    s.rule = core::HoldRule::fixed;
    s.handover_us = 0;
    s.cut_short = s.spread = false;
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
    static constexpr std::uint32_t parts = 5; ///< of a tick: a blink
    /// Ages above `most` parts make no difference.
    void age(core::Moment then, std::uint32_t most) {
        put(std::min(core::elapsed_us(now_, then) / (tick_us / parts), most));
    }
    void left(core::Moment deadline) { put(core::elapsed_us(deadline, now_) / tick_us); }

    void put(const core::Range& range) {
        for (const auto& extremes : {range.now_, range.before_}) {
            put(extremes.least);
            put(extremes.most);
        }
        put(range.count_);
    }
    void put(const core::Settle& settle) {
        put(static_cast<std::uint8_t>(settle.state_));
        if (settle.timer().armed) left(settle.timer().at);
    }
    void put(const core::Hold& hold) {
        put(static_cast<std::uint8_t>(hold.state_));
        if (hold.timer().armed) left(hold.timer().at);
    }
    void put(const core::Cadence& line) {
        put(static_cast<std::uint8_t>(line.phase_) | static_cast<unsigned>(line.cut_) << 4);
        put(line.in_gap_ | line.counts_ << 1 | line.whole_ << 2 | line.confirmed_ << 3 | line.excused_ << 4 |
            line.asked_ << 5 | line.again_ << 6 | line.skewed_ << 8);
        put(line.odd_gap_);
        age(line.rose_, 60 * parts);
        age(line.last_high_, 60 * parts);
        age(line.glint_, 60 * parts);
    }
    void put(const core::Decoder& decoder) {
        for (int i = 0; i < 2; ++i) {
            put(decoder.turn_[i].settle_);
            put(decoder.turn_[i].hold_);
        }
        if (decoder.settings().handover_us == 0) return; // each line for itself: nothing learned matters
        const core::Intent& intent = decoder.intent_;
        for (const core::Cadence& line : intent.lines_)
            put(line);
        put(intent.rhythm_.gaps_);
        put(intent.rhythm_.ons_);
        put(static_cast<std::uint8_t>(intent.rhythm_.trust_));
        put(intent.rhythm_.slow_ | intent.rhythm_.fast_ << 3);
        put(intent.hazard_ | intent.old_.bits() << 1);
        put(intent.alone_.armed);
        if (intent.alone_.armed) left(intent.alone_.at);
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

    void step(std::uint8_t lines) {
        now = core::after(now, tick_us);
        decoder.step(now, core::Lines(lines));
        twin.step(now, core::Lines(mirrored(lines)));
        for (std::uint8_t i = 0; i < 2; ++i) {
            const bool on_now = decoder.line(static_cast<Side>(i)).on();
            if (on_now && !on[i])
                rose_ago[i] = 0;
            else if (rose_ago[i] <= 20)
                ++rose_ago[i];
            on[i] = on_now;
        }
    }
    bool lit(int i) const { return on[i] && rose_ago[i] <= flash_ticks; }
    bool stuck(int i) const { return on[i] && rose_ago[i] > flash_ticks; }

    std::string key() const {
        Key key(now);
        key.put(decoder);
        for (std::uint8_t i = 0; i < 2; ++i)
            key.put(std::min<std::uint32_t>(rose_ago[i], on[i] ? flash_ticks + 1u : handover_ticks + 1u));
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
        core::Decoder late = next.decoder;
        again.step(core::after(next.now, tick_us / 2), core::Lines(lines));
        EXPECT_EQ(again.step(core::after(next.now, tick_us), core::Lines(lines)),
                  late.step(core::after(next.now, tick_us), core::Lines(lines)))
            << "a step between: " << story;

        constexpr std::uint8_t patience = 1; // it must stand for a blink
        for (std::uint8_t i = 0; i < 2; ++i)
            if (next.lit(i) && next.stuck(1 - i) && next.rose_ago[i] >= patience) {
                EXPECT_TRUE(shows(now, static_cast<Side>(i))) << "beside a stuck line: " << story;
            }
    }
};

TEST(StateSpace, PlainHoldWalkedToTheLastState) {
    Walk walk{plain(), 400'000};
    ASSERT_EQ(core::check(walk.settings), core::SettingsError::none);
    walk.run();
    EXPECT_TRUE(walk.closed);
    EXPECT_GT(walk.reached.size(), 100u);
}

TEST(StateSpace, TheRulesWalkedAsFarAsTheFirst100000States) {
    Walk walk{learning(), 100'000};
    ASSERT_EQ(core::check(walk.settings), core::SettingsError::none);
    walk.run();
    EXPECT_EQ(walk.reached.size(), walk.most_states);
}

} // namespace
