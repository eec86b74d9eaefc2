/// Hand-made lines, and what the rules make of them.
#pragma once

#include "winkhold/bike/limits/judge.hpp"
#include "winkhold/bike/limits/observed.hpp"

#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <unistd.h>

namespace winkhold::test {

using host::Asked;
using host::Finding;
using host::Limit;
using host::Observed;
using host::Profile;
using host::Ruling;
using host::TimeUs;

/// Edges of both lines, in any order: each flash of either side.
class Lines {
public:
    Lines& light(core::Side side, TimeUs on_us, TimeUs off_us) {
        const auto tap = side == core::Side::left ? core::Lines::left : core::Lines::right;
        changes_.push_back({on_us, tap, true});
        changes_.push_back({off_us, tap, false});
        return *this;
    }
    /// Lit and dark in turn from `now_us` on, the pattern so many times. Moves `now_us` on.
    Lines& flashes(core::Side side, const std::vector<std::pair<TimeUs, TimeUs>>& pattern, int times,
                   TimeUs from_us = 1'000'000) {
        for (int i = 0; i < times; ++i)
            for (const auto& [on_us, dark_us] : pattern) {
                light(side, from_us, from_us + on_us);
                from_us += on_us + dark_us;
            }
        return *this;
    }
    Lines& brake(TimeUs on_us, TimeUs off_us) {
        changes_.push_back({on_us, core::Lines::brake, true});
        changes_.push_back({off_us, core::Lines::brake, false});
        return *this;
    }
    Observed observed(const host::LampPlan& plan = {}, TimeUs goes_on_us = 5'000'000) const {
        std::vector<Change> changes = changes_;
        std::stable_sort(changes.begin(), changes.end(),
                         [](const Change& a, const Change& b) { return a.t_us < b.t_us; });
        host::Observer observer(plan, core::Settings{});
        core::Lines lines;
        observer.feed({0, lines});
        for (const Change& change : changes) {
            lines = lines.with(change.tap, change.high);
            observer.feed({change.t_us, lines});
        }
        return observer.finish((changes.empty() ? 0 : changes.back().t_us) + goes_on_us);
    }

private:
    struct Change {
        TimeUs t_us;
        core::Lines::Tap tap;
        bool high;
    };
    std::vector<Change> changes_;
};

inline Limit limit(host::LimitMeasure measure, std::optional<double> least, std::optional<double> most,
                   host::Unit unit) {
    Limit limit;
    limit.id = "here.it";
    limit.measure = measure;
    limit.least = least;
    limit.most = most;
    limit.unit = unit;
    return limit;
}

inline Finding find(const Limit& limit, const Observed& observed, const host::Lamps& lamps = {}) {
    return host::judge(Profile{"here", "motorcycle", "Here", {limit}}, {}, std::span(&observed, 1), lamps)
        .findings.front();
}

/// The limit of that name, as it is carried along.
inline Limit carried(const std::string& place, const std::string& id,
                     const std::string& kind = "motorcycle") {
    for (const Limit& limit : host::LimitBook::carried_along().profile(place, kind).limits)
        if (limit.id == id) return limit;
    ADD_FAILURE() << id << " is not carried along";
    return {};
}

} // namespace winkhold::test
