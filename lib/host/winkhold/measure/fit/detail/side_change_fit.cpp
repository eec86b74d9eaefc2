#include "winkhold/measure/fit/detail/side_change_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace winkhold::measure {
namespace {

using core::Indication;

constexpr double oddity = 0.02;
constexpr double odd_range_us = 3e6;

double normal_density(double off_us, double deviation_us) {
    const double z = off_us / deviation_us;
    return std::exp(-z * z / 2) * std::numbers::inv_sqrtpi / std::numbers::sqrt2 / deviation_us;
}

double with_oddity(double density) {
    return (1 - oddity) * density + oddity / odd_range_us;
}

struct Model {
    double on_us, dark_us, jitter;
    double on_deviation_us, dark_deviation_us;

    double period_us() const { return on_us + dark_us; }
    double duty() const { return on_us / period_us(); }

    double light(double us, bool may_be_cut) const {
        const double whole = normal_density(us - on_us, on_deviation_us);
        if (!may_be_cut) return with_oddity(whole);
        const double cut = us < on_us ? 1 / on_us : 0;
        return with_oddity(duty() * cut + (1 - duty()) * whole);
    }
    bool surely_cut(const Flash& flash) const {
        return flash.has_length() && flash.lit_us() < on_us - 5 * on_deviation_us;
    }
    /// This rhythm's, not that of a lamp that is out.
    bool has(const Burst& burst) const {
        if (burst.size() < 2) return false;
        const double span_us = static_cast<double>(burst.back().on_us - burst.front().on_us);
        const auto periods = static_cast<double>(burst.size() - 1);
        return std::abs(span_us / periods / period_us() - 1) < std::max(0.15, 4 * jitter) + 0.5 / periods;
    }

    /// How far the new side's fall is from where the old side's rhythm would have had one.
    double phase(double since_old_rise_us, double& deviation_us) const {
        const double periods = std::round((since_old_rise_us - on_us) / period_us());
        const double cycle_us = jitter * std::hypot(on_us, dark_us);
        deviation_us = std::hypot(on_deviation_us, cycle_us * std::sqrt(std::max(0.0, periods)));
        return since_old_rise_us - on_us - periods * period_us();
    }
};

class Weighing {
public:
    explicit Weighing(const Model& model) : model_(model) {}

    void first_light(const Flash& flash) {
        if (!flash.has_length()) return;
        add(SideChange::restart, model_.light(flash.lit_us(), false));
        add(SideChange::free_running, model_.light(flash.lit_us(), true));
        add(SideChange::whole_cycle, model_.light(flash.lit_us(), false));
    }
    void last_light(const Flash& flash) {
        if (!flash.has_length()) return;
        add(SideChange::restart, model_.light(flash.lit_us(), true));
        add(SideChange::free_running, model_.light(flash.lit_us(), true));
        add(SideChange::whole_cycle, model_.light(flash.lit_us(), false));
    }
    /// From one side's burst to the other's; both of two flashes or more.
    void change(const Burst& old, const Burst& next) {
        const double any = 1 / model_.period_us();
        double deviation_us = 0;
        const double off_us =
            model_.phase(static_cast<double>(next.front().off_us - old.back().on_us), deviation_us);
        const double in_phase = normal_density(off_us, deviation_us);
        add(SideChange::free_running, std::max(with_oddity(in_phase), oddity * any));
        add(SideChange::restart, any);
        // a cycle that is finished before the new side starts: later than that only by the switch
        const auto gap_us = static_cast<double>(next.front().on_us - old.back().off_us);
        const bool whole_gap = gap_us > model_.dark_us - 5 * model_.dark_deviation_us;
        add(SideChange::whole_cycle, whole_gap ? 0.7 * in_phase + 0.3 * any : oddity / odd_range_us);
    }
    std::array<double, 3> chances() const {
        const double most = *std::max_element(logs_.begin(), logs_.end());
        std::array<double, 3> chance{};
        double sum = 0;
        for (std::size_t i = 0; i < 3; ++i)
            sum += chance[i] = std::exp(logs_[i] - most);
        for (double& one : chance)
            one /= sum;
        return chance;
    }

private:
    void add(SideChange which, double density) {
        logs_[static_cast<std::size_t>(which)] += std::log(density);
    }

    Model model_;
    std::array<double, 3> logs_{};
};

/// A change that cut the old side's light.
struct Travel {
    double dark_us;
    bool into_light; ///< and the new one's first
};

bool sides_swapped(const Burst& old, const Burst& next) {
    return old.front().show != next.front().show && old.front().show != Indication::hazard &&
           next.front().show != Indication::hazard;
}

} // namespace

SideChangeFit fit_side_change(const std::vector<Burst>& bursts, const RhythmFit& rhythm, double step_us) {
    const double jitter = rhythm.jitter_percent.value / 100;
    const auto deviation_us = [&](double us) { return std::max({jitter * us, 0.7 * step_us, 200.0}); };
    const Model model{rhythm.on_us.value, rhythm.dark_us.value, jitter, deviation_us(rhythm.on_us.value),
                      deviation_us(rhythm.dark_us.value)};
    // longer than the switch may take after a whole dark phase
    const double rest_us = model.dark_us + 500e3;
    Weighing weighing(model);
    SideChangeFit fit;
    std::vector<Travel> travels;
    for (std::size_t i = 0; i < bursts.size(); ++i) {
        const Burst& burst = bursts[i];
        if (!model.has(burst)) continue;
        const bool is_last = i + 1 == bursts.size();
        const double rest_before_us =
            i == 0 ? rest_us : static_cast<double>(burst.front().on_us - bursts[i - 1].back().off_us);
        const double rest_after_us =
            is_last ? rest_us : static_cast<double>(bursts[i + 1].front().on_us - burst.back().off_us);
        const bool swaps_before = i > 0 && rest_before_us < rest_us && sides_swapped(bursts[i - 1], burst);
        const bool swaps_after = !is_last && rest_after_us < rest_us && sides_swapped(burst, bursts[i + 1]);
        // a hazard before or after has its own switch, and may share a light
        if (rest_before_us >= rest_us || swaps_before) weighing.first_light(burst.front());
        if (rest_after_us >= rest_us || swaps_after) weighing.last_light(burst.back());
        if (!swaps_after || !model.has(bursts[i + 1])) continue;
        ++fit.changes;
        weighing.change(burst, bursts[i + 1]);
        if (model.surely_cut(burst.back()))
            travels.push_back({rest_after_us, model.surely_cut(bursts[i + 1].front())});
    }
    fit.chance = weighing.chances();
    const auto likeliest = std::max_element(fit.chance.begin(), fit.chance.end());
    if (fit.changes > 0 && *likeliest >= 0.95)
        fit.model = static_cast<SideChange>(likeliest - fit.chance.begin());
    for (const Travel& travel : travels) {
        // a rhythm that runs on may be dark when the switch arrives
        if (!travel.into_light && fit.model != SideChange::restart) continue;
        fit.dark_least_us = fit.cut == 0 ? travel.dark_us : std::min(fit.dark_least_us, travel.dark_us);
        fit.dark_most_us = std::max(fit.dark_most_us, travel.dark_us);
        ++fit.cut;
    }
    return fit;
}

} // namespace winkhold::measure
