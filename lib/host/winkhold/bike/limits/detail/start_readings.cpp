// What the start of a flasher reads: first light, first dark, first cycle.
#include "winkhold/bike/limits/detail/readings.hpp"

#include <algorithm>
#include <map>

namespace winkhold::bike {
namespace {

/// When a signal was first lit since a request, first dark after that, and lit again.
struct Start {
    TimeUs lit_us{never_us};
    TimeUs dark_us{never_us};
    TimeUs again_us{never_us};
    bool was_lit{false}; ///< as the request came: the flasher was running
};

Start start_of(const Signal& signal, const Asked& request) {
    const auto light = std::upper_bound(signal.lights.begin(), signal.lights.end(), request.start_us,
                                        [](TimeUs t_us, const SeenLight& one) { return t_us < one.off_us; });
    if (light == signal.lights.end() || light->on_us >= request.end_us) return {};
    Start start{.lit_us = std::max(light->on_us, request.start_us),
                .was_lit = light->on_us < request.start_us};
    if (!light->to_end && light->off_us <= request.end_us) start.dark_us = light->off_us;
    const auto next = std::next(light);
    if (next != signal.lights.end() && next->on_us < request.end_us) start.again_us = next->on_us;
    return start;
}

/// None if this request is no start for this measure.
std::optional<TimeUs> reached_us(const Start& start, LimitMeasure measure) {
    switch (measure) {
    case LimitMeasure::first_light:
        return start.lit_us;
    case LimitMeasure::first_dark:
        return start.lit_us == never_us ? std::nullopt : std::optional(start.dark_us);
    case LimitMeasure::first_dark_mean:
        return start.was_lit ? std::nullopt : std::optional(start.dark_us);
    default:
        return start.was_lit ? std::nullopt : std::optional(start.again_us);
    }
}

/// A request that ends while it is still waited for tells that it takes longer.
Reading start_reading(TimeUs reached_us, const Asked& request) {
    Reading reading;
    reading.at_least = reached_us == never_us;
    reading.at_us = request.start_us;
    reading.for_most = reading.for_least =
        static_cast<double>((reading.at_least ? request.end_us : reached_us) - request.start_us);
    return reading;
}

constexpr std::size_t starts_of_a_mean = 3; // SAE J945, summary (quoted)

/// Of a ride's lines, or of its lamps: the mean of each three requests in a row, the later side of each.
void add_means(const std::map<TimeUs, Reading>& starts, Readings& means) {
    std::vector<Reading> three;
    for (const auto& [at_us, start] : starts) {
        three.push_back(start);
        if (three.size() < starts_of_a_mean) continue;
        Reading mean = three.front();
        mean.where += " and the two starts after it";
        mean.for_most = 0;
        for (const Reading& one : three) {
            mean.for_most += one.for_most / starts_of_a_mean;
            mean.at_least |= one.at_least;
        }
        mean.for_least = mean.for_most;
        means.all.push_back(mean);
        three.erase(three.begin());
    }
}

bool is_mean(LimitMeasure measure) {
    return measure == LimitMeasure::first_dark_mean || measure == LimitMeasure::first_cycle_mean;
}

} // namespace

Readings read_starts(const Limit& limit, std::span<const Observed> observed) {
    Readings readings;
    readings.why_none = "not known when the switch was closed; --truth FILE.csv tells";
    for (const Observed& ride : observed) {
        if (!ride.asked) continue;
        readings.why_none = is_mean(limit.measure)
                                ? "it takes three starts in one ride, each of them long enough"
                                : "no request was long enough";
        std::map<TimeUs, Reading> later[2]; // of lines and of lamps, by request
        for (const Signal& signal : ride.signals)
            for (const Asked& request : *ride.asked) {
                if (!core::shows(request.show, signal.side)) continue;
                const auto at_us = reached_us(start_of(signal, request), limit.measure);
                if (!at_us) continue;
                Reading reading = start_reading(*at_us, request);
                reading.where = signal.name();
                reading.trial = ride.trial;
                const bool tells =
                    !reading.at_least || reading.for_most > limit.most.value_or(0) * scale(limit.unit);
                if (!tells) continue;
                if (!is_mean(limit.measure)) {
                    readings.all.push_back(reading);
                    continue;
                }
                Reading& of_both = later[static_cast<std::size_t>(signal.of)]
                                       .try_emplace(request.start_us, reading)
                                       .first->second;
                if (reading.for_most > of_both.for_most) of_both = reading;
            }
        for (const auto& starts : later)
            add_means(starts, readings);
    }
    return readings;
}

} // namespace winkhold::bike
