// Simulate a bike, fit it from the recording alone, compare with what it was made from.
#include "support.hpp"

#include <cmath>
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <map>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::BikeFit;
using host::Estimate;
using host::Scenario;
using host::TimeUs;

constexpr int bikes = 500;

/// How often a parameter's interval covers the truth, and how wide it is.
struct Coverage {
    int tries{0};
    int covered{0};
    double widths{0}; ///< sum, in percent of `scale`
};

class Tally {
public:
    /// `scale`: what the width is a share of.
    void add(const std::string& parameter, const Estimate& estimate, double truth, double scale) {
        Coverage& c = coverage_[parameter];
        ++c.tries;
        c.covered += estimate.covers(truth);
        c.widths += 100 * estimate.width() / scale;
    }
    void judge() const {
        for (const auto& [parameter, c] : coverage_) {
            const double share = 100.0 * c.covered / c.tries;
            fmt::print("{:<22} covered {:5.1f} % of {}, mean width {:.3g} %\n", parameter, share, c.tries,
                       c.widths / c.tries);
            EXPECT_GE(share, 93) << parameter;
        }
    }

private:
    std::map<std::string, Coverage> coverage_;
};

double period_at_us(const Scenario& bike, double at_min) {
    return 60e6 / bike.flasher.rate_per_min.least * (1 + bike.flasher.drift_percent_per_min / 100 * at_min);
}

/// The cycles that a fit may count on: a dark gap each.
struct PeriodError {
    double sum{0};
    int count{0};
    void add(const Scenario& bike, const BikeFit& fit) {
        const double truth_us = period_at_us(bike, fit.rhythm.at_min);
        const double duty = bike.flasher.duty_percent.least / 100;
        const double sigma_us = truth_us * bike.flasher.jitter_percent / 100 * std::hypot(duty, 1 - duty);
        const auto n = static_cast<double>(fit.rhythm.dark_count);
        sum += std::pow((fit.rhythm.period_us.value - truth_us) / (sigma_us / std::sqrt(n)), 2);
        ++count;
    }
    double rms() const { return std::sqrt(sum / count); }
};

void compare(const Scenario& bike, const BikeFit& fit, bool with_contacts, Tally& tally) {
    const double period_us = period_at_us(bike, fit.rhythm.at_min);
    const double duty = bike.flasher.duty_percent.least;
    tally.add("period", fit.rhythm.period_us, period_us, period_us);
    tally.add("duty", fit.rhythm.duty_percent, duty, 100);
    tally.add("jitter", fit.rhythm.jitter_percent, bike.flasher.jitter_percent, bike.flasher.jitter_percent);
    const double drift = bike.flasher.drift_percent_per_min;
    tally.add("drift", fit.rhythm.drift_percent_per_min, drift / (1 + drift / 100 * fit.rhythm.at_min), 100);
    tally.add("missing flashes", fit.missing_flash_percent, bike.flasher.missing_flash_percent, 100);
    if (!with_contacts) return;
    const auto bounce_us = static_cast<double>(bike.contacts.bounce_us);
    tally.add("bounce", fit.bounce.bounce_us, bounce_us, bounce_us);
    tally.add("bounce pulses", fit.bounce.pulses, bike.contacts.bounce_pulses, bike.contacts.bounce_pulses);
    const auto skew = [&](const char* what, const std::optional<host::SkewFit>& seen, host::Range truth) {
        if (!seen) return;
        tally.add(fmt::format("{} skew least", what), seen->least_us, truth.least, truth.most);
        tally.add(fmt::format("{} skew most", what), seen->most_us, truth.most, truth.most);
    };
    skew("rise", fit.rise_skew, bike.contacts.rise_skew_us);
    skew("fall", fit.fall_skew, bike.contacts.fall_skew_us);
}

TEST(RoundTrip, EachIntervalCoversTheTruthOfFiveHundredBikes) {
    Tally tally;
    PeriodError error;
    int changes[3]{}, named[3]{}, wrong = 0;
    for (int seed = 1; seed <= bikes; ++seed) {
        const Scenario bike = drawn_bike(static_cast<std::uint64_t>(seed));
        host::RideMaker maker(bike);
        const BikeFit fit = fitted(maker.make(static_cast<std::uint64_t>(seed), 0).trace);
        compare(bike, fit, true, tally);
        error.add(bike, fit);
        const auto model = static_cast<std::size_t>(bike.flasher.side_change);
        ++changes[model];
        if (!fit.side_change.model) continue;
        const bool right = *fit.side_change.model == bike.flasher.side_change;
        named[model] += right;
        wrong += !right;
    }
    tally.judge();
    fmt::print("period error {:.3f} sigma / sqrt(n)\n", error.rms());
    EXPECT_LE(error.rms(), 1.2);
    for (std::size_t model = 0; model < 3; ++model)
        fmt::print("side change {}: {} of {} named\n", model, named[model], changes[model]);
    fmt::print("{} wrong\n", wrong);
    EXPECT_LE(wrong, bikes / 20) << "named only when it has 95 %";
}

} // namespace
