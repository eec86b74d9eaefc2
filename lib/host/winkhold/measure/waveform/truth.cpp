#include "winkhold/measure/waveform/truth.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

using core::Indication;

/// One uninterrupted run of flashes of one side, from first rise to last high.
struct Run {
    TimeUs start_us;
    TimeUs end_us;
};

std::vector<Run> find_runs(const std::vector<Phase>& phases, TimeUs end_us) {
    std::vector<Run> runs;
    for (const Phase& phase : phases) {
        const TimeUs last_us = std::min(phase.last_high_us, end_us);
        if (!runs.empty() && phase.rise_us - runs.back().end_us < core::built_in::longest_gap_us)
            runs.back().end_us = last_us;
        else
            runs.push_back({phase.rise_us, last_us});
    }
    return runs;
}

bool asked_at(const std::vector<Run>& runs, TimeUs t_us) {
    const auto after = std::upper_bound(runs.begin(), runs.end(), t_us,
                                        [](TimeUs t, const Run& run) { return t < run.start_us; });
    return after != runs.begin() && t_us < std::prev(after)->end_us;
}

void count_lights(const std::vector<Phase>& phases, Request& request, TimeUs end_us) {
    auto phase = std::lower_bound(phases.begin(), phases.end(), request.start_us,
                                  [](const Phase& p, TimeUs t) { return p.rise_us < t; });
    for (; phase != phases.end() && phase->rise_us < request.end_us; ++phase) {
        if (request.flashes == 0) request.first_light_us = phase->rise_us;
        ++request.flashes;
        request.last_light_on_us = phase->rise_us;
        request.last_light_off_us = std::min(phase->last_high_us, end_us);
    }
}

} // namespace

void write_truth_csv(std::ostream& out, const Truth& truth) {
    CsvWriter csv(out);
    csv.record("time_us", "indication");
    TimeUs silent_from_us = 0;
    if (truth.requests.empty() || truth.requests.front().start_us > 0) csv.record(0, name(Indication::off));
    for (const Request& request : truth.requests) {
        if (silent_from_us != 0 && silent_from_us < request.start_us)
            csv.record(silent_from_us, name(Indication::off));
        csv.record(request.start_us, name(request.show));
        silent_from_us = request.end_us;
    }
    if (silent_from_us != 0) csv.record(silent_from_us, name(Indication::off));
    csv.flush();
}

Truth infer_truth(const Phases& phases, TimeUs end_us) {
    const std::vector<Run> left = find_runs(phases[0], end_us);
    const std::vector<Run> right = find_runs(phases[1], end_us);
    std::vector<TimeUs> borders;
    for (const auto* runs : {&left, &right})
        for (const Run& run : *runs)
            borders.insert(borders.end(), {run.start_us, run.end_us});
    std::sort(borders.begin(), borders.end());
    borders.erase(std::unique(borders.begin(), borders.end()), borders.end());

    Truth truth{.requests = {}, .end_us = end_us};
    for (std::size_t i = 0; i + 1 < borders.size(); ++i) {
        const int show = (asked_at(left, borders[i]) ? 1 : 0) | (asked_at(right, borders[i]) ? 2 : 0);
        if (show == 0) continue;
        Request request{.show = static_cast<Indication>(show),
                        .start_us = borders[i],
                        .end_us = borders[i + 1],
                        .first_light_us = borders[i + 1]};
        if (core::shows(request.show, core::Side::left)) count_lights(phases[0], request, end_us);
        if (core::shows(request.show, core::Side::right)) count_lights(phases[1], request, end_us);
        truth.requests.push_back(request);
    }
    return truth;
}

} // namespace winkhold::measure
