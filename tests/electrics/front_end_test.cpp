// The front end's worst case, against closed forms, published thresholds, and parts drawn at random.
#include "winkhold/bike/electrics/front_end_figures.hpp"
#include "winkhold/measure/front_end/front_end.hpp"
#include "winkhold/measure/front_end/input_network.hpp"
#include "winkhold/measure/waveform/random.hpp"

#include <algorithm>
#include <cmath>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::host;

FrontEnd logic(double top_kohm, double bottom_kohm) {
    FrontEnd f;
    f.top_kohm = top_kohm;
    f.bottom_kohm = bottom_kohm;
    f.capacitor_nf = 10;
    f.resistor_percent = f.capacitor_percent = f.pin_v_percent = 0;
    f.clamp = ClampKind::none;
    f.pin_v = 5;
    f.input = InputKind::logic;
    f.part = "ATmega328P";
    return f;
}

const Check* find(const Checks& checks, const std::string& what) {
    for (const Check& check : checks)
        if (check.what.find(what) != std::string::npos) return &check;
    return nullptr;
}

Checks judged_with(const FrontEnd& f) {
    Checks checks;
    judge_front_end(f, 60'000, 5'000, checks);
    return checks;
}

bool fits(double gain) { // R1 is 100 kohm
    const Checks checks = judged_with(logic(100, 100 * gain / (1 - gain)));
    return find(checks, "from 9 V up")->verdict == CheckVerdict::passed &&
           find(checks, "pin at 16 V")->verdict == CheckVerdict::passed;
}

// Worked example: guaranteed digital levels from 9 to 16 V leave a gain of 0.334 to 0.343 only (derived).
TEST(FrontEnd, GuaranteedDigitalLevelsLeaveAGainOf0334To0343) {
    EXPECT_FALSE(fits(0.333));
    EXPECT_TRUE(fits(0.334));
    EXPECT_TRUE(fits(0.343));
    EXPECT_FALSE(fits(0.345));
}

// ATmega328P data sheet: VIL 0.3 VCC, VIH 0.6 VCC. 74HC1G14 data sheet at 4.5 V: VT+ 1.7 to 3.15, VT- 0.9
// to 2.0.
TEST(FrontEnd, ThresholdsAreThoseOfTheDataSheets) {
    const Thresholds avr = logic(100, 50).thresholds().value();
    EXPECT_NEAR(avr.rise_v.most, 3.0, 1e-12);
    EXPECT_NEAR(avr.fall_v.least, 1.5, 1e-12);
    FrontEnd schmitt = logic(100, 50);
    schmitt.input = InputKind::schmitt;
    schmitt.part = "74HC1G14";
    schmitt.pin_v = 4.5;
    const Thresholds sheet = schmitt.thresholds().value();
    EXPECT_NEAR(sheet.rise_v.least, 1.7, 1e-12);
    EXPECT_NEAR(sheet.rise_v.most, 3.15, 1e-12);
    EXPECT_NEAR(sheet.fall_v.least, 0.9, 1e-12);
    EXPECT_NEAR(sheet.fall_v.most, 2.0, 1e-12);
    EXPECT_NE(sheet.source.find("(read)"), std::string::npos);
    EXPECT_EQ(sheet.source.find("derived"), std::string::npos);
    schmitt.pin_v = 5;
    EXPECT_NE(schmitt.thresholds()->source.find("derived"), std::string::npos) << "scaled, so it says so";
}

// Worked example: a load-sense pull-up of 3.6 kohm at 13.9 V lifts a dark tap of 10 kohm to 10.2 V, 2.2 kohm
// to 5.3, 1 kohm to 3.0, 470 ohm to 1.6 (derived).
TEST(FrontEnd, APullUpLiftsADarkLineAsWorkedOut) {
    FrontEnd f = logic(100, 50);
    f.pull_up_kohm = 3.6;
    const std::pair<double, double> rows[] = {{10'000, 10.2}, {2'200, 5.3}, {1'000, 3.0}, {470, 1.6}};
    for (const auto& [ohm, volts] : rows) {
        f.bleeder_ohm = ohm;
        EXPECT_NEAR(f.let_go(TappedLine::left).volts(13.9), volts, 0.05) << ohm;
    }
}

TEST(FrontEnd, TheBleederItAsksForIsJustEnough) {
    FrontEnd f = logic(100, 50);
    f.pull_up_kohm = 3.6;
    const double ohm = figures_of(f)->bleeder_needed_ohm;
    ASSERT_GT(ohm, 0);
    f.bleeder_ohm = ohm;
    EXPECT_EQ(find(judged_with(f), "let-go line")->verdict, CheckVerdict::passed);
    f.bleeder_ohm = ohm * 1.11; // more than the next value of E24
    EXPECT_EQ(find(judged_with(f), "let-go line")->verdict, CheckVerdict::finding);
}

TEST(FrontEnd, DelaysAreTheTextbooks) {
    FrontEnd f = logic(100, 50);
    f.rise_v = Range{2};
    f.fall_v = Range{1};
    const EdgeFigures at_12 = figures_of(f)->edges[2];
    const double tau_us = 100e3 * 50e3 / 150e3 * 10e-9 * 1e6;
    EXPECT_EQ(at_12.line_v, 12);
    EXPECT_NEAR(at_12.rise_us.most, tau_us * std::log(4 / (4 - 2.0)), 1e-9);
    EXPECT_NEAR(at_12.rise_us.least, at_12.rise_us.most, 1e-9);
    EXPECT_NEAR(at_12.fall_us.least, tau_us * std::log(4.0), 1e-9) << "a filament holds the dark line at 0 V";
    EXPECT_NEAR(at_12.fall_us.most, 50e3 * 10e-9 * 1e6 * std::log(4.0), 1e-9) << "nothing holds it";
    EXPECT_TRUE(std::isinf(figures_of(logic(100, 10))->edges[0].rise_us.most))
        << "6 V never reach the threshold";
}

// tau ln((Vf - V0) / (Vf - VT+)): the load sense lifts a let-go line, and it rises from there.
TEST(FrontEnd, ALetGoLineRisesFromWhereTheLoadSenseLiftsIt) {
    FrontEnd f = logic(100, 50);
    f.rise_v = Range{2};
    f.fall_v = Range{1};
    f.pull_up_kohm = 3.6;
    f.bleeder_ohm = 680;
    const double gain = 50 / 150.0;
    const double tau_us = 100e3 * gain * 10e-9 * 1e6;
    for (const double line_v : {9.0, 12.0, 16.0}) {
        const double source_v = line_v / 3.6e3 / (1 / 3.6e3 + 1 / 680.0);
        const double source_ohm = 1 / (1 / 3.6e3 + 1 / 680.0);
        const double ghost_v = source_v * 50e3 / (150e3 + source_ohm);
        const EdgeFigures edges = edges_at(line_v, f, TappedLine::left);
        EXPECT_NEAR(edges.rise_us.least, tau_us * std::log((gain * line_v - ghost_v) / (gain * line_v - 2)),
                    1e-6);
        EXPECT_NEAR(edges.rise_us.most, tau_us * std::log(gain * line_v / (gain * line_v - 2)), 1e-6);
        const EdgeFigures brake = edges_at(line_v, f, TappedLine::brake);
        EXPECT_NEAR(brake.rise_us.least, brake.rise_us.most, 1e-9) << "no flasher, no load sense";
    }
}

TEST(FrontEnd, ATapOfALowLineReadsLitAfterTheFall) {
    FrontEnd f = logic(100, 50);
    f.rise_v = Range{2};
    f.fall_v = Range{1};
    const double tau_us = 100e3 / 3 * 10e-9 * 1e6;
    EXPECT_NEAR(lit_after_us(f, TappedLine::brake)->most, tau_us * std::log(3 / (3 - 2.0)), 1e-6) << "9 V";
    f.active_low[static_cast<std::size_t>(TappedLine::brake)] = true;
    EXPECT_NEAR(lit_after_us(f, TappedLine::brake)->most, tau_us * std::log(16 / 3.0), 1e-6) << "16 V";
    EXPECT_NEAR(lit_after_us(f, TappedLine::brake)->least, tau_us * std::log(3.0), 1e-6);
}

TEST(FrontEnd, BleederAndLoadSenseHaveTolerances) {
    FrontEnd f = logic(100, 50);
    f.resistor_percent = 5;
    f.pull_up_kohm = 3.6;
    f.bleeder_ohm = 680;
    const double source_v = 16 / (3.6e3 * 0.95) / (1 / (3.6e3 * 0.95) + 1 / (680 * 1.05));
    const double source_ohm = 1 / (1 / (3.6e3 * 0.95) + 1 / (680 * 1.05));
    EXPECT_NEAR(figures_of(f)->dark_line_v, source_v * 157.5e3 / (157.5e3 + source_ohm), 1e-9);
    EXPECT_NEAR(figures_of(f)->bleeder_w, 256 / (680 * 0.95), 1e-12);
    f.bleeder_ohm = figures_of(f)->bleeder_needed_ohm;
    EXPECT_EQ(find(judged_with(f), "let-go line")->verdict, CheckVerdict::passed);
    f.bleeder_ohm = *f.bleeder_ohm * 1.11; // the next value of E24
    EXPECT_EQ(find(judged_with(f), "let-go line")->verdict, CheckVerdict::finding);
}

// A line that stays high without any leakage needs none to be harmed, whatever the harness is like.
TEST(FrontEnd, StuckWithoutLeakageIsAFindingThoughWetIsNotKnown) {
    FrontEnd f = logic(100, 50);
    f.pull_up_kohm = 3.6;
    EXPECT_EQ(find(judged_with(f), "wet harness")->verdict, CheckVerdict::finding);
    f.wet_kohm = 1e6;
    EXPECT_EQ(find(judged_with(f), "wet harness")->verdict, CheckVerdict::finding);
    f.bleeder_ohm = 470;
    EXPECT_EQ(find(judged_with(f), "wet harness")->verdict, CheckVerdict::passed);
}

// Levels III/IV of a 12 V system as the VND5E160J data sheet prints them (read).
TEST(FrontEnd, TransientsAreThoseOfTheDocumentTheyName) {
    const std::pair<const char*, double> rows[] = {
        {"pulse 1", -100}, {"pulse 2a", 63.5}, {"pulse 3a", -150}, {"pulse 3b", 113.5}, {"pulse 5b", 87}};
    ASSERT_EQ(published_transients().size(), std::size(rows));
    for (std::size_t i = 0; i < std::size(rows); ++i) {
        EXPECT_EQ(published_transients()[i].name, rows[i].first);
        EXPECT_EQ(published_transients()[i].line_v, rows[i].second);
    }
}

TEST(FrontEnd, NoDrawnPartsAreWorseThanTheWorstCase) {
    FrontEnd f = logic(120, 60);
    f.input = InputKind::schmitt;
    f.part = "74HC1G14";
    f.resistor_percent = 5;
    f.capacitor_percent = 20;
    f.pin_v_percent = 4;
    const FrontEndFigures figures = figures_of(f).value();
    const Thresholds limits = f.thresholds().value();
    RandomStream random(1, 0);
    const auto spread = [&](double nominal, double share) {
        return nominal * (1 + share * (2 * random.unit() - 1));
    };
    const auto within = [&](const Range& range) {
        return range.least + (range.most - range.least) * random.unit();
    };
    double closest = 1e9;
    for (int i = 0; i < 100'000; ++i) {
        const InputNetwork parts{spread(120e3, 0.05),   spread(60e3, 0.05),   spread(10e-9, 0.2), 1e9,
                                 within(limits.rise_v), within(limits.fall_v)};
        for (const EdgeFigures& edges : figures.edges) {
            if (edges.line_v < 12) continue; // at least one of the drawn would never rise
            const LowPass lit = low_pass(parts);
            const double rise_us = crossing_us(lit, edges.line_v, 0, parts.rise_v);
            const double fall_us = crossing_us(lit, 0, lit.gain * edges.line_v, parts.fall_v);
            ASSERT_GE(rise_us, edges.rise_us.least);
            ASSERT_LE(rise_us, edges.rise_us.most);
            ASSERT_GE(fall_us - rise_us, edges.width_us.least);
            ASSERT_LE(fall_us - rise_us, edges.width_us.most);
            if (edges.line_v == 16) closest = std::min(closest, edges.rise_us.most / rise_us);
        }
    }
    EXPECT_LT(closest, 1.15) << "nor is the worst case far from what was drawn";
}

/// Volts at the pin of a let-go line, leakage from 16 V onto line and pin: the nodes' equations, solved.
double pin_with(const FrontEnd& f, double line_leak_s, double pin_leak_s) {
    const double top_s = 1e-3 / *f.top_kohm;
    const double bottom_s = 1e-3 / *f.bottom_kohm;
    const double pull_s = f.let_go(TappedLine::left).pull_up_siemens + line_leak_s;
    const double line_s = pull_s + (f.bleeder_ohm ? 1 / *f.bleeder_ohm : 0) + top_s;
    // line: line_s L - top_s P = 16 pull_s;  pin: -top_s L + (top_s + bottom_s + pin_leak_s) P = 16
    // pin_leak_s
    const double pin_s = top_s + bottom_s + pin_leak_s;
    return (line_s * 16 * pin_leak_s + top_s * 16 * pull_s) / (line_s * pin_s - top_s * top_s);
}

TEST(FrontEnd, LeakageAtItsLimitBringsThePinToTheThreshold) {
    FrontEnd f = logic(100, 50);
    f.rise_v = Range{2};
    f.fall_v = Range{1};
    for (const bool bleeds : {false, true}) {
        if (bleeds) {
            f.bleeder_ohm = 680;
            f.pull_up_kohm = 3.6;
        }
        const FrontEndFigures figures = figures_of(f).value();
        EXPECT_NEAR(pin_with(f, 1 / figures.false_high_line_ohm, 0), 2, 1e-9);
        EXPECT_NEAR(pin_with(f, 0, 1 / figures.false_high_pin_ohm), 2, 1e-9);
        EXPECT_NEAR(pin_with(f, 1 / figures.stuck_line_ohm, 0), 1, 1e-9);
        EXPECT_NEAR(pin_with(f, 0, 1 / figures.stuck_pin_ohm), 1, 1e-9);
    }
    f.bleeder_ohm.reset();
    EXPECT_TRUE(std::isinf(figures_of(f)->stuck_line_ohm)) << "the pull-up alone does it, whatever leaks";
}

TEST(FrontEnd, ClampCurrentIsWhatTheTopResistorLetsThrough) {
    FrontEnd f = logic(10, 10);
    f.clamp = ClampKind::zener;
    f.zener_v = Range{5};
    f.clamp_ma = 7.7;
    const auto dump = figures_of(f)->transients.back();
    EXPECT_EQ(dump.transient.line_v, 87);
    EXPECT_NEAR(dump.clamp_ma, (87 - 5.0) / 10 - 5.0 / 10, 1e-9); // 7.7 mA; pulse 3b: 10.35
    EXPECT_EQ(find(judged_with(f), "clamp current")->verdict, CheckVerdict::finding);
    f.clamp_ma = 10.4;
    EXPECT_EQ(find(judged_with(f), "clamp current")->verdict, CheckVerdict::passed);
    f.clamp_ma.reset();
    EXPECT_EQ(find(judged_with(f), "clamp current")->verdict, CheckVerdict::not_judged);
}

TEST(FrontEnd, AShortTransientReadsHighOnlyIfTheCapacitorGetsThatFar) {
    FrontEnd f = logic(100, 50); // tau 333 us, 63.5 V for 50 us: 2.95 V
    f.rise_v = Range{2.9};
    f.fall_v = Range{1};
    EXPECT_GT(figures_of(f)->transients[1].high_us, 50);
    f.capacitor_nf = 100; // 0.31 V
    EXPECT_EQ(figures_of(f)->transients[1].high_us, 0);
}

TEST(FrontEnd, AnAdcReadsNothingAboveItsReference) {
    FrontEnd f = logic(10, 30); // 5 V of the line are 3.75 V at the pin
    f.input = InputKind::adc;
    f.adc_error_lsb = 0;
    EXPECT_EQ(find(judged_with(f), "converter's range")->verdict, CheckVerdict::passed);
    f.on_above_v = 6.67;
    EXPECT_EQ(find(judged_with(f), "converter's range")->verdict, CheckVerdict::finding);
}

TEST(FrontEnd, WhatIsNotKnownIsNotJudged) {
    const auto forget = [](auto&& change) {
        FrontEnd f = logic(100, 50);
        change(f);
        const Checks checks = judged_with(f);
        return checks.size() == 1 && checks[0].verdict == CheckVerdict::not_judged ? checks[0].advice
                                                                                   : "judged";
    };
    EXPECT_EQ(forget([](FrontEnd& f) { f.top_kohm.reset(); }), "top_kohm");
    EXPECT_EQ(forget([](FrontEnd& f) { f.bottom_kohm.reset(); }), "bottom_kohm");
    EXPECT_EQ(forget([](FrontEnd& f) { f.capacitor_nf.reset(); }), "capacitor_nf (0: none)");
    EXPECT_EQ(forget([](FrontEnd& f) { f.clamp.reset(); }), "clamp");
    EXPECT_EQ(forget([](FrontEnd& f) { f.pin_v.reset(); }), "pin_v");
    EXPECT_EQ(forget([](FrontEnd& f) { f.input.reset(); }), "input");
    EXPECT_EQ(forget([](FrontEnd& f) { f.part.clear(); }), "part, or rise_v and fall_v");
    EXPECT_EQ(forget([](FrontEnd& f) { f.clamp = ClampKind::zener; }), "zener_v");
    const Checks checks = judged_with(logic(100, 50));
    EXPECT_EQ(find(checks, "let-go line")->verdict, CheckVerdict::not_judged) << "no pull_up_kohm";
    EXPECT_EQ(find(checks, "wet harness")->verdict, CheckVerdict::not_judged) << "no wet_kohm";
    EXPECT_EQ(find(checks, "behind the top resistor")->verdict, CheckVerdict::not_judged)
        << "no wet_pin_kohm";
}

} // namespace
