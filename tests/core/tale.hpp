/// Stories told in flashes: which side is lit for how long, dark for how long, and what is shown then. Every
/// tale is run at several scan cadences, with the clock about to wrap, and mirrored.
#pragma once

#include "winkhold/core/core.hpp"

#include <algorithm>
#include <gtest/gtest.h>
#include <string>
#include <vector>

namespace winkhold::testing::tales {

/// The sides that a tale lights, as in Indication.
enum Lit : std::uint8_t { nothing = 0, left = 1, right = 2, both = 3 };

/// Times are in milliseconds from one change of the lines to the next. settle is 5 ms unless a tale says
/// otherwise, so a rise is seen 5 ms after it, and so is a fall.
class Tale {
public:
    Tale(std::string rule, core::Settings settings = {}) : rule_(std::move(rule)), settings_(settings) {}

    /// The lines of `sides` are lit, the others dark, for this long.
    Tale& lit(Lit sides, double for_ms) {
        changes_.push_back(
            {now_us_, static_cast<std::uint8_t>(sides | (powered_ ? core::Lines::supply : 0))});
        began_us_ = now_us_;
        now_us_ += us(for_ms);
        return *this;
    }
    Tale& dark(double for_ms) { return lit(nothing, for_ms); }
    Tale& flashes(Lit sides, int count, double on_ms, double off_ms) {
        for (int i = 0; i < count; ++i)
            lit(sides, on_ms).dark(off_ms);
        return *this;
    }
    /// So many regular flashes that cut-short is trusted at once, and the last gap is over.
    Tale& trusted(Lit sides = left, double on_ms = 300, double off_ms = 300) {
        return flashes(sides, 40, on_ms, off_ms);
    }
    /// From here on the supply tap is up, or down.
    Tale& supply(bool up) {
        powered_ = up;
        return *this;
    }

    /// The answer when the present phase ends, just before the next change.
    Tale& shows(Lit sides) { return check(now_us_ - 1, sides); }
    /// The answer so long after the present phase began.
    Tale& shows(Lit sides, double after_ms) { return check(began_us_ + us(after_ms), sides); }
    /// The answer changes so long after the present phase began, not 1 us earlier.
    Tale& turns(Lit from, Lit to, double after_ms) {
        check(began_us_ + us(after_ms) - 1, from);
        return check(began_us_ + us(after_ms), to);
    }
    /// A fault of a side that the watch reports at the end of the present phase, or doesn't.
    Tale& tells(core::Fault fault, bool does = true) {
        tells_.push_back({now_us_ - 1, fault, does});
        return *this;
    }

    const std::string& rule() const { return rule_; }

    void run(std::uint32_t start_us, bool mirrored, std::uint32_t scan_us) const {
        core::Decoder decoder(settings_);
        std::uint32_t now_us = 0;
        core::Lines lines;
        const auto at = [start_us](std::uint32_t t_us) { return core::Micros{start_us + t_us}; };
        const auto step = [&](std::uint32_t t_us) {
            now_us = t_us;
            decoder.step(at(t_us), lines);
        };
        const auto run_to = [&](std::uint32_t to_us) { // up to, not including
            while (true) {
                std::uint32_t next_us = scan_us == 0 ? to_us : std::min(now_us + scan_us, to_us);
                if (decoder.wake().armed)
                    next_us = std::min(next_us, now_us + core::elapsed_us(decoder.wake().at, at(now_us)));
                if (next_us >= to_us) return;
                step(next_us);
            }
        };
        step(0);
        auto change = changes_.begin();
        auto check = checks_.begin();
        auto told = tells_.begin();
        while (change != changes_.end() || check != checks_.end() || told != tells_.end()) {
            std::uint32_t t_us = 0xffffffff;
            if (change != changes_.end()) t_us = std::min(t_us, change->t_us);
            if (check != checks_.end()) t_us = std::min(t_us, check->t_us);
            if (told != tells_.end()) t_us = std::min(t_us, told->t_us);
            run_to(t_us);
            if (change != changes_.end() && change->t_us == t_us)
                lines = core::Lines(flip((change++)->lines, mirrored));
            step(t_us);
            for (; check != checks_.end() && check->t_us == t_us; ++check)
                ASSERT_EQ(int(decoder.indication()), int(flip(check->sides, mirrored)))
                    << "at " << t_us / 1000.0 << " ms";
            for (; told != tells_.end() && told->t_us == t_us; ++told)
                ASSERT_EQ((decoder.faults(mirrored ? core::Side::right : core::Side::left) & told->fault) !=
                              0,
                          told->does)
                    << "at " << t_us / 1000.0 << " ms";
        }
        // a silent minute must end in off and change nothing more
        lines = core::Lines{};
        step(now_us);
        const std::uint32_t silent_us = now_us;
        while (decoder.wake().armed)
            step(now_us + core::elapsed_us(decoder.wake().at, at(now_us)));
        ASSERT_LT(now_us, silent_us + 60'000'000);
        ASSERT_EQ(decoder.indication(), core::Indication::off);
    }

private:
    struct Change {
        std::uint32_t t_us;
        std::uint8_t lines;
    };
    struct Check {
        std::uint32_t t_us;
        Lit sides;
    };
    struct Told {
        std::uint32_t t_us;
        core::Fault fault;
        bool does;
    };

    static std::uint32_t us(double ms) { return static_cast<std::uint32_t>(ms * 1000 + 0.5); }
    static std::uint8_t flip(std::uint8_t bits, bool mirrored) {
        return static_cast<std::uint8_t>(mirrored ? (bits & ~3u) | (bits & 1u) << 1 | (bits & 2u) >> 1
                                                  : bits);
    }
    Tale& check(std::uint32_t t_us, Lit sides) {
        checks_.push_back({t_us, sides});
        return *this;
    }

    std::string rule_;
    core::Settings settings_;
    std::vector<Change> changes_;
    std::vector<Check> checks_;
    std::vector<Told> tells_;
    std::uint32_t now_us_{100'000};
    std::uint32_t began_us_{0};
    bool powered_{false};
};

class Tales : public ::testing::TestWithParam<Tale> {};

// Settings that tales are told of.
inline core::Settings uncut() {
    core::Settings s;
    s.cut_short = false;
    return s;
}
inline core::Settings independent() {
    core::Settings s;
    s.handover_us = 0;
    return s;
}
inline core::Settings plain(std::uint32_t hold_ms) {
    core::Settings s = independent();
    s.rule = core::HoldRule::fixed;
    s.hold_us = hold_ms * 1'000;
    s.cut_short = false;
    return s;
}
inline core::Settings with_prior(std::uint32_t gap_ms) {
    core::Settings s;
    s.gap_prior_us = gap_ms * 1'000;
    return s;
}

inline std::string name_of(const ::testing::TestParamInfo<Tale>& info) {
    std::string name = info.param.rule();
    for (char& c : name)
        if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
    return name;
}

inline void expect_tale(const Tale& tale) {
    for (const std::uint32_t scan_us : {0u, 333u, 1'000u, 5'000u})
        for (const bool mirrored : {false, true})
            for (const std::uint32_t start_us : {0u, 0u - 900'000u}) {
                SCOPED_TRACE(tale.rule() + ", scanned each " + std::to_string(scan_us) + " us" +
                             (mirrored ? ", mirrored" : "") + (start_us != 0 ? ", across the wrap" : ""));
                ASSERT_NO_FATAL_FAILURE(tale.run(start_us, mirrored, scan_us));
            }
}

} // namespace winkhold::testing::tales
