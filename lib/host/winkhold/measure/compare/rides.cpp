#include "winkhold/measure/compare/rides.hpp"

#include "winkhold/measure/score/detail/bound.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

constexpr int first_flashes = 3;

/// Asked for only from the end of the third light on, so that score() counts the late dropouts.
Truth after_third_light(const Truth& truth) {
    Truth late{.requests = {}, .end_us = truth.end_us};
    for (Request request : truth.requests) {
        if (request.third_light_off_us >= request.end_us) continue;
        request.start_us = request.first_light_us = request.third_light_off_us;
        late.requests.push_back(request);
    }
    return late;
}

std::int64_t late_flashes(const Request& request) {
    const int sides = request.show == core::Indication::hazard ? 2 : 1;
    return std::max(0, request.flashes - first_flashes * sides);
}

DecoderFigures in_short(const Figures& figures, std::int64_t late_dropouts) {
    return {.dropouts = figures.dropouts,
            .late_dropouts = late_dropouts,
            .false_shows = figures.false_shows,
            .missed = figures.missed,
            .overlap = summarise(figures.overlap_us),
            .release = summarise(figures.release_us),
            .acquire = summarise(figures.acquire_us)};
}

/// One decoder's figures as they grow.
struct Tally {
    Figures figures;
    std::int64_t late_dropouts{0};

    void add(const Ride& ride, const core::Settings& settings) {
        const Timeline timeline = decode(ride.trace, settings);
        const std::int64_t before = figures.dropouts;
        score(ride.truth, timeline, figures);
        if (figures.dropouts == before) return; // nor any late one
        Figures late;
        score(after_third_light(ride.truth), timeline, late);
        late_dropouts += late.dropouts;
    }
};

} // namespace

RidesFigures compare_on_rides(const Scenario& scenario, const std::vector<ComparedDecoder>& decoders,
                              std::int64_t flashes, std::uint64_t seed) {
    RideMaker maker(scenario);
    RidesFigures sum;
    std::vector<Tally> tallies(decoders.size());
    Figures bound;
    for (std::uint64_t trial = 0; sum.flashes < flashes; ++trial) {
        const Ride& ride = maker.make(seed, trial);
        for (const Request& request : ride.truth.requests) {
            sum.flashes += request.flashes;
            sum.late_flashes += late_flashes(request);
        }
        for (std::size_t i = 0; i < decoders.size(); ++i) {
            core::Settings settings = decoders[i].settings;
            if (decoders[i].knows_gap) settings.gap_prior_us = static_cast<std::uint32_t>(ride.bike.dark_us);
            tallies[i].add(ride, settings);
        }
        add_bound(scenario, ride, bound);
    }
    for (const Tally& tally : tallies)
        sum.decoders.push_back(in_short(tally.figures, tally.late_dropouts));
    sum.bound = in_short(bound, 0);
    return sum;
}

core::Settings plain_hold(TimeUs hold_us) {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.hold_us = static_cast<std::uint32_t>(hold_us);
    settings.handover_us = 0;
    settings.cut_short = false;
    return settings;
}

} // namespace winkhold::measure
