#include "winkhold/measure/fit/detail/cycles.hpp"

#include "winkhold/base/statistics/detail/median.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <span>

namespace winkhold::measure {
namespace {

struct Typical {
    double on_us;
    double dark_us;

    double off_by(const Cycle& cycle) const {
        return (cycle.on_us ? std::abs(std::log(*cycle.on_us / on_us)) : 0) +
               (cycle.dark_us ? std::abs(std::log(*cycle.dark_us / dark_us)) : 0);
    }
};

Typical typical_of(std::span<const Cycle> cycles) {
    std::vector<double> on, dark;
    for (const Cycle& cycle : cycles) {
        on.push_back(*cycle.on_us);
        dark.push_back(*cycle.dark_us);
    }
    return {median(std::move(on)), median(std::move(dark))};
}

bool alike(double a, double b) {
    return std::abs(std::log(a / b)) < 0.1;
}

/// Only a flash is left out in the longer ones.
bool merely_missing(const Typical& shorter, const Typical& longer) {
    return alike(shorter.on_us, longer.on_us) && alike(longer.dark_us, 2 * shorter.dark_us + shorter.on_us);
}

template <class Key>
std::optional<std::array<Typical, 2>> split_by(std::vector<Cycle> whole, Key&& key) {
    constexpr std::size_t least_group = 4;
    constexpr double least_factor = 1.25;
    if (whole.size() < 2 * least_group) return std::nullopt;
    std::sort(whole.begin(), whole.end(), [&](const Cycle& a, const Cycle& b) { return key(a) < key(b); });
    std::size_t at = 0;
    double widest = least_factor;
    for (std::size_t i = least_group; i + least_group <= whole.size(); ++i)
        if (const double factor = key(whole[i]) / key(whole[i - 1]); factor >= widest) {
            widest = factor;
            at = i;
        }
    if (at == 0) return std::nullopt;
    const std::span<const Cycle> all(whole);
    // broken flashes are of any length
    const auto tight = [&](std::span<const Cycle> group) {
        const auto last = static_cast<double>(group.size() - 1);
        return key(group[static_cast<std::size_t>(0.9 * last)]) <
               1.5 * key(group[static_cast<std::size_t>(0.1 * last)]);
    };
    if (!tight(all.first(at)) || !tight(all.subspan(at))) return std::nullopt;
    const std::array<Typical, 2> groups{typical_of(all.first(at)), typical_of(all.subspan(at))};
    if (merely_missing(groups[0], groups[1])) return std::nullopt;
    return groups;
}

} // namespace

std::vector<Cycle> cycles_of(const std::vector<Burst>& bursts, const BurstGaps& gaps, TimeUs start_us,
                             Count count) {
    std::vector<Cycle> cycles;
    int number = 0;
    for (const Burst& burst : bursts) {
        for (std::size_t i = 0; i + 1 < burst.size(); ++i) {
            const double gap_us = gap_before_us(burst, i + 1);
            const bool gap_counts = count == Count::any || (burst[i].sure && burst[i + 1].sure);
            Cycle cycle{.begins_burst = i == 0,
                        .number = ++number,
                        .at_min = static_cast<double>(burst[i].on_us - start_us) / 60e6,
                        .on_us = {},
                        .dark_us = {}};
            if (i > 0 && burst[i].whole && (count == Count::any || burst[i].sure))
                cycle.on_us = burst[i].lit_us();
            if (gap_us > 0 && gap_counts && !gaps.missing(gap_us)) cycle.dark_us = gap_us;
            cycles.push_back(cycle);
        }
        ++number;
    }
    return cycles;
}

std::vector<SeenPhase> phases_of(const std::vector<Cycle>& cycles) {
    std::vector<SeenPhase> phases;
    for (const Cycle& cycle : cycles) {
        if (cycle.on_us) phases.push_back({true, cycle.at_min, *cycle.on_us, 2 * cycle.number});
        if (cycle.dark_us) phases.push_back({false, cycle.at_min, *cycle.dark_us, 2 * cycle.number + 1});
    }
    return phases;
}

std::optional<TwoRhythms> two_rhythms(const std::vector<Cycle>& cycles) {
    std::vector<Cycle> whole;
    std::copy_if(cycles.begin(), cycles.end(), std::back_inserter(whole),
                 [](const Cycle& cycle) { return cycle.on_us && cycle.dark_us; });
    auto groups = split_by(whole, [](const Cycle& c) { return *c.on_us + *c.dark_us; });
    if (!groups) groups = split_by(whole, [](const Cycle& c) { return *c.on_us; });
    if (!groups) groups = split_by(whole, [](const Cycle& c) { return *c.dark_us; });
    if (!groups) return std::nullopt;
    const auto period_us = [](const Typical& typical) { return typical.on_us + typical.dark_us; };
    if (period_us((*groups)[0]) < period_us((*groups)[1])) std::swap((*groups)[0], (*groups)[1]);
    TwoRhythms two;
    bool was_quick = false;
    int group = 0;
    for (const Cycle& cycle : cycles) {
        const bool quick = (*groups)[1].off_by(cycle) < (*groups)[0].off_by(cycle);
        if (quick != was_quick && !(two.slow.empty() && two.quick.empty())) ++two.stretches;
        was_quick = quick;
        (quick ? two.quick : two.slow).push_back(cycle);
        group = cycle.begins_burst ? 1 : group + 1;
        if (quick) continue;
        two.groups.push_back(group);
        group = 0;
    }
    return two;
}

int TwoRhythms::usual_group() const {
    std::map<int, std::size_t> times;
    for (const int group : groups)
        ++times[group];
    for (const auto& [group, count] : times)
        if (group > 1 && 2 * count > groups.size()) return group;
    return 0;
}

} // namespace winkhold::measure
