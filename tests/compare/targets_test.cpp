// The targets, on hand-made figures: at the limit, and one step beyond.
#include "winkhold/measure/compare/compare.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using host::DecoderFigures;

const host::Cell restart{host::SideChange::restart, 706'000, 50, 1};
const host::Cell whole_cycle{host::SideChange::whole_cycle, 706'000, 50, 1};

/// Figures that meet every target exactly.
host::RidesFigures at_the_limits() {
    host::RidesFigures figures;
    figures.flashes = 2'000'000;
    figures.late_flashes = 1'000'000;
    DecoderFigures fixed;
    fixed.dropouts = 7;
    fixed.late_dropouts = 5;
    fixed.missed = 2;
    fixed.overlap = {.count = 1, .mean_us = 500'000, .p99_us = 700'000};
    fixed.release = {.count = 1, .mean_us = 750'000, .p99_us = 840'000};
    fixed.fresh_acquire = {.count = 1, .mean_us = 8'000, .p99_us = 9'000};
    fixed.change_acquire = {.count = 1, .mean_us = 7'000, .p99_us = 8'000};
    DecoderFigures mine = fixed;
    mine.change_acquire = {.count = 1, .mean_us = 47'000, .p99_us = 48'000};
    mine.early_release.mean_us = 360'000; // 1.5 x 200 + 60
    mine.late_dropouts = 3;
    mine.overlap.p99_us = 30'000;
    mine.release.mean_us = 135'000; // 1.25 x 100 + 10
    figures.decoders.resize(host::cell_decoders);
    figures.decoders[host::fixed_840] = fixed;
    figures.decoders[host::default_decoder] = mine;
    figures.bound.overlap.p99_us = 25'000;
    figures.bound.release.mean_us = 100'000;
    figures.bound.early_release.mean_us = 200'000;
    return figures;
}

DecoderFigures& mine(host::RidesFigures& figures) {
    return figures.decoders[host::default_decoder];
}

TEST(Targets, FiguresAtTheirLimitsMeetThem) {
    EXPECT_TRUE(host::judge_cell(restart, at_the_limits()).empty());
}

struct Worse {
    const char* what; ///< the one target missed
    const char* unit;
    double value;
    double limit;
    void (*worsen)(DecoderFigures&);
};

class OneWorse : public ::testing::TestWithParam<Worse> {};

TEST_P(OneWorse, OneStepBeyondTheLimitMissesThatTargetAlone) {
    host::RidesFigures figures = at_the_limits();
    GetParam().worsen(mine(figures));
    const auto misses = host::judge_cell(restart, figures);
    ASSERT_EQ(misses.size(), 1u);
    EXPECT_EQ(misses[0].what, GetParam().what);
    EXPECT_EQ(misses[0].unit, GetParam().unit);
    EXPECT_DOUBLE_EQ(misses[0].value, GetParam().value);
    EXPECT_DOUBLE_EQ(misses[0].limit, GetParam().limit);
}

INSTANTIATE_TEST_SUITE_P(
    Targets, OneWorse,
    ::testing::Values(
        Worse{"overlap p99", "ms", 30.001, 30, [](DecoderFigures& f) { f.overlap.p99_us = 30'001; }},
        Worse{"mean release", "ms", 135.001, 135, [](DecoderFigures& f) { f.release.mean_us = 135'001; }},
        Worse{"late dropouts", "per million", 4, 3, [](DecoderFigures& f) { f.late_dropouts = 4; }},
        Worse{"dropouts against fixed 840", "", 8, 7, [](DecoderFigures& f) { f.dropouts = 8; }},
        Worse{"missed against fixed 840", "", 3, 2, [](DecoderFigures& f) { f.missed = 3; }},
        Worse{"release p99 against fixed 840", "ms", 840.001, 840,
              [](DecoderFigures& f) { f.release.p99_us = 840'001; }},
        Worse{"mean overlap against fixed 840", "ms", 500.001, 500,
              [](DecoderFigures& f) { f.overlap.mean_us = 500'001; }},
        Worse{"mean acquire against fixed 840", "ms", 8.001, 8,
              [](DecoderFigures& f) { f.fresh_acquire.mean_us = 8'001; }},
        Worse{"acquire p99 against fixed 840", "ms", 9.001, 9,
              [](DecoderFigures& f) { f.fresh_acquire.p99_us = 9'001; }},
        Worse{"mean acquire after a change against fixed 840", "ms", 47.001, 47,
              [](DecoderFigures& f) { f.change_acquire.mean_us = 47'001; }},
        Worse{"acquire p99 after a change against fixed 840", "ms", 48.001, 48,
              [](DecoderFigures& f) { f.change_acquire.p99_us = 48'001; }},
        Worse{"mean early release", "ms", 360.001, 360,
              [](DecoderFigures& f) { f.early_release.mean_us = 360'001; }}));

TEST(Targets, AFalseShowMissesItsTargetAndIsWorseThanTheFixedHold) {
    host::RidesFigures figures = at_the_limits();
    mine(figures).false_shows = 1;
    const auto misses = host::judge_cell(restart, figures);
    ASSERT_EQ(misses.size(), 2u);
    EXPECT_EQ(misses[0].what, "false shows");
    EXPECT_EQ(misses[1].what, "false shows against fixed 840");
    figures.decoders[host::fixed_840].false_shows = 1;
    EXPECT_EQ(host::judge_cell(restart, figures).size(), 1u) << "no worse than fixed, and yet one too many";
}

TEST(Targets, AWholeCycleFlasherHasNoReleaseTargetButMayNotBeWorseThanTheFixedHold) {
    host::RidesFigures figures = at_the_limits();
    mine(figures).release.mean_us = 750'000;
    EXPECT_TRUE(host::judge_cell(whole_cycle, figures).empty());
    mine(figures).release.mean_us = 750'001;
    ASSERT_EQ(host::judge_cell(whole_cycle, figures).size(), 1u);
    EXPECT_EQ(host::judge_cell(whole_cycle, figures)[0].what, "mean release against fixed 840");
}

TEST(Targets, LateDropoutsAreARateOfLateFlashes) {
    host::RidesFigures figures = at_the_limits();
    figures.late_flashes = 999'999;
    ASSERT_EQ(host::judge_cell(restart, figures).size(), 1u);
    EXPECT_EQ(host::judge_cell(restart, figures)[0].what, "late dropouts");
    figures.late_flashes = 0;
    mine(figures).late_dropouts = 0;
    EXPECT_TRUE(host::judge_cell(restart, figures).empty());
}

} // namespace
