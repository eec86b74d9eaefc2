#include "winkhold/core/core.hpp"

#include <gtest/gtest.h>

namespace core = winkhold::core;

TEST(Settings, EachBoundIsRefusedJustBeyondItAndAcceptedOnIt) {
    const auto with = [](auto change) {
        core::Settings s;
        change(s);
        return core::check(s);
    };
    using E = core::SettingsError;
    EXPECT_EQ(with([](auto& s) { s.hold_us = 5'000'000; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.hold_us = 5'000'001; }), E::hold_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.settle_us = 0, s.hold_us = 1'000; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.settle_us = 0, s.hold_us = 999; }), E::hold_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.settle_us = s.hold_us; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.hold_us = 400'000, s.settle_us = 400'001; }), E::hold_below_settle);
    EXPECT_EQ(with([](auto& s) { s.pwm_gap_us = s.hold_us; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.hold_us = 400'000, s.pwm_gap_us = 400'001; }), E::hold_below_pwm_gap);
    EXPECT_EQ(with([](auto& s) { s.settle_us = 1'000'001; }), E::settle_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.pwm_gap_us = 1'000'001; }), E::pwm_gap_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.guard_us = 5'000'000; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.guard_us = 5'000'001; }), E::guard_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.handover_us = 999'999; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.handover_us = 1'000'000; }), E::handover_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.cut_margin_us = 1'000'000; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.cut_margin_us = 1'000'001; }), E::cut_margin_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.gap_prior_us = 1'000'000; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.gap_prior_us = 1'000'001; }), E::gap_prior_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.gap_prior_us = s.settle_us; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.gap_prior_us = s.settle_us - 1; }), E::gap_prior_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.pwm_gap_us = 20'000, s.gap_prior_us = 20'000; }), E::none);
    EXPECT_EQ(with([](auto& s) { s.pwm_gap_us = 20'000, s.gap_prior_us = 19'999; }),
              E::gap_prior_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.fall_window_us = 1'000'000; }), E::fall_window_out_of_range);
    EXPECT_EQ(with([](auto& s) { s.supply_gone_us = 1'000'001; }), E::supply_gone_out_of_range);
}
