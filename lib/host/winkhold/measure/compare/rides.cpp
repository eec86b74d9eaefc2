#include "winkhold/measure/compare/rides.hpp"

#include "winkhold/measure/score/detail/bound.hpp"

#include <algorithm>
#include <span>

namespace winkhold::measure {
namespace {

constexpr int first_flashes = 3;

int sides(const Request& request) {
    return request.show == core::Indication::hazard ? 2 : 1;
}

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
    return std::max(0, request.flashes - first_flashes * sides(request));
}

/// When the first request begins that `known_flashes` flashes come before; never_us if none does.
TimeUs judged_from_us(const Truth& truth, int known_flashes) {
    int flashes = 0;
    for (const Request& request : truth.requests) {
        if (flashes >= known_flashes) return request.start_us;
        flashes += request.flashes / sides(request);
    }
    return never_us;
}

/// Acquires of requests that take over from the other side at once, and of all others.
struct Acquires {
    std::vector<TimeUs> fresh_us;
    std::vector<TimeUs> change_us;

    /// `added_us` are those of the requests from `from_us` on, in order, as score() has added them.
    void add(const Truth& truth, TimeUs from_us, std::span<const TimeUs> added_us) {
        const Request* before = nullptr;
        for (const Request& request : truth.requests) {
            const bool takes_over = before != nullptr && before->end_us == request.start_us &&
                                    before->show != request.show && sides(*before) + sides(request) == 2;
            before = &request;
            if (request.start_us < from_us || request.flashes == 0) continue;
            const auto mine = added_us.first(static_cast<std::size_t>(sides(request)));
            added_us = added_us.subspan(mine.size());
            std::vector<TimeUs>& list = takes_over ? change_us : fresh_us;
            list.insert(list.end(), mine.begin(), mine.end());
        }
    }
};

DecoderFigures in_short(const Figures& figures, const Figures& early, const Acquires& acquires,
                        std::int64_t late_dropouts) {
    return {.dropouts = figures.dropouts,
            .late_dropouts = late_dropouts,
            .false_shows = figures.false_shows,
            .missed = figures.missed,
            .overlap = summarise(figures.overlap_us),
            .release = summarise(figures.release_us),
            .acquire = summarise(figures.acquire_us),
            .fresh_acquire = summarise(acquires.fresh_us),
            .change_acquire = summarise(acquires.change_us),
            .early_release = summarise(early.release_us)};
}

/// One decoder's figures as they grow.
struct Tally {
    Figures figures;
    Figures early;
    Acquires acquires;
    std::int64_t late_dropouts{0};

    void add(const Ride& ride, const core::Settings& settings, TimeUs from_us) {
        const Timeline timeline = decode(ride.trace, settings);
        const std::int64_t dropouts = figures.dropouts;
        const std::size_t acquired = figures.acquire_us.size();
        score(ride.truth, timeline, figures, from_us);
        if (from_us > 0) score(ride.truth, timeline, early, 0, from_us);
        acquires.add(ride.truth, from_us, std::span(figures.acquire_us).subspan(acquired));
        if (figures.dropouts == dropouts) return; // nor any late one
        Figures late;
        score(after_third_light(ride.truth), timeline, late, from_us);
        late_dropouts += late.dropouts;
    }
};

} // namespace

RidesFigures compare_on_rides(const Scenario& scenario, const std::vector<ComparedDecoder>& decoders,
                              std::int64_t flashes, std::uint64_t seed, int known_flashes) {
    RideMaker maker(scenario);
    RidesFigures sum;
    std::vector<Tally> tallies(decoders.size());
    Figures bound;
    Figures early_bound;
    for (std::uint64_t trial = 0; sum.flashes < flashes; ++trial) {
        const Ride& ride = maker.make(seed, trial);
        const TimeUs from_us = judged_from_us(ride.truth, known_flashes);
        for (const Request& request : ride.truth.requests) {
            if (request.start_us < from_us) continue;
            sum.flashes += request.flashes;
            sum.late_flashes += late_flashes(request);
        }
        for (std::size_t i = 0; i < decoders.size(); ++i) {
            core::Settings settings = decoders[i].settings;
            if (decoders[i].knows_gap) settings.gap_prior_us = static_cast<std::uint32_t>(ride.bike.dark_us);
            tallies[i].add(ride, settings, from_us);
        }
        add_bound(scenario, ride, bound, from_us);
        add_bound(scenario, ride, early_bound, 0, from_us);
    }
    for (const Tally& tally : tallies)
        sum.decoders.push_back(in_short(tally.figures, tally.early, tally.acquires, tally.late_dropouts));
    sum.bound = in_short(bound, early_bound, {}, 0);
    return sum;
}

} // namespace winkhold::measure
