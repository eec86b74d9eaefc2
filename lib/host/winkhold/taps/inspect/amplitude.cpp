#include "winkhold/taps/inspect/amplitude.hpp"

#include "winkhold/base/statistics/detail/median.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::taps {
namespace {

constexpr TimeUs from_edge_us = 30'000; // past bounce and a slow lamp's fall
constexpr double step_v = 0.1;
constexpr std::size_t steps = 320; // to 32 V: what a failed regulator gives, and a lorry's network
constexpr double at_rest_v = 0.5;  // below that a line is dark, or between two pulses of its PWM
constexpr double fed_below = 0.95;

/// How long a line stood at which voltage, above rest.
class TimeAtVolts {
public:
    void add(double volts, TimeUs us) {
        if (us <= 0 || !(volts >= at_rest_v)) return;
        const auto step = static_cast<std::size_t>(std::min(volts / step_v, static_cast<double>(steps - 1)));
        us_[step] += us;
        total_us_ += us;
    }
    /// The middle of the step; 0 if it was at rest all along.
    double median_v() const {
        TimeUs below_us = 0;
        for (std::size_t step = 0; step < steps; ++step)
            if (below_us += us_[step]; 2 * below_us >= total_us_ && total_us_ > 0)
                return step_v * (static_cast<double>(step) + 0.5);
        return 0;
    }

private:
    std::array<TimeUs, steps> us_{};
    TimeUs total_us_{0};
};

/// Of one side's flashes, the middle that is being gone through.
struct Side {
    struct Window {
        TimeUs from_us, to_us;
    };
    std::vector<Window> windows;
    std::size_t next{0};
    std::array<TimeAtVolts, 2> lines; ///< both, in the window that is next
    std::vector<double> lit_v;        ///< its own voltage in each
    std::vector<double> fed_ratios;

    void end_window(std::size_t own) {
        const double volts[]{lines[0].median_v(), lines[1].median_v()};
        lit_v.push_back(volts[own]);
        const auto [lower, higher] = std::minmax(volts[0], volts[1]);
        if (volts[own] == higher && lower > 0 && lower < fed_below * higher)
            fed_ratios.push_back(lower / higher);
        lines = {};
        ++next;
    }
};

} // namespace

struct AmplitudeMeter::State {
    std::array<Side, 2> sides;
    std::array<double, 2> volts{};
    TimeUs since_us{0};
    bool any{false};

    /// Both lines have stood at `volts` until now.
    void stretch(TimeUs to_us) {
        for (std::size_t own = 0; own < 2; ++own) {
            Side& side = sides[own];
            while (side.next < side.windows.size() && side.windows[side.next].from_us < to_us) {
                const auto& window = side.windows[side.next];
                const TimeUs us = std::min(to_us, window.to_us) - std::max(since_us, window.from_us);
                for (std::size_t line = 0; line < 2; ++line)
                    side.lines[line].add(volts[line], us);
                if (window.to_us > to_us) break;
                side.end_window(own);
            }
        }
        since_us = to_us;
    }
};

AmplitudeMeter::AmplitudeMeter(const Inspection& seen) : state_(std::make_unique<State>()) {
    for (std::size_t side = 0; side < 2; ++side)
        for (const SeenLight& light : seen.lines[side].lights)
            if (light.lit_us() > 2 * from_edge_us)
                state_->sides[side].windows.push_back(
                    {light.on_us + from_edge_us, light.off_us - from_edge_us});
}
AmplitudeMeter::~AmplitudeMeter() = default;

void AmplitudeMeter::volts(TimeUs t_us, core::Side line, double volts) {
    if (t_us > state_->since_us) state_->stretch(t_us);
    state_->volts[static_cast<std::size_t>(line)] = volts;
    state_->any = true;
}

std::optional<Amplitudes> AmplitudeMeter::finish(TimeUs end_us) {
    auto& [left, right] = state_->sides;
    if (!state_->any || left.windows.size() + right.windows.size() == 0) return std::nullopt;
    state_->stretch(end_us);
    const auto median_or_0 = [](std::vector<double> values) {
        return values.empty() ? 0 : median(std::move(values));
    };
    std::vector<double> ratios = std::move(left.fed_ratios);
    ratios.insert(ratios.end(), right.fed_ratios.begin(), right.fed_ratios.end());
    Amplitudes amplitudes;
    amplitudes.lit_v = {median_or_0(std::move(left.lit_v)), median_or_0(std::move(right.lit_v))};
    amplitudes.fed_flashes = std::ssize(ratios);
    amplitudes.fed_ratio = median_or_0(std::move(ratios));
    return amplitudes;
}

} // namespace winkhold::taps
