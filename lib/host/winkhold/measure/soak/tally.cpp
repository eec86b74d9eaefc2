#include "winkhold/measure/soak/tally.hpp"

#include "winkhold/measure/score/plain_hold.hpp"
#include "winkhold/measure/soak/soak.hpp"

namespace winkhold::measure {
namespace {

SoakFigure figure_of(ScoredWhat what) {
    return what == ScoredWhat::acquire   ? SoakFigure::acquire
           : what == ScoredWhat::release ? SoakFigure::release
                                         : SoakFigure::overlap;
}

bool is_latency(ScoredWhat what) {
    return what == ScoredWhat::acquire || what == ScoredWhat::release || what == ScoredWhat::overlap;
}

void add(SoakErrors& to, const SoakErrors& more) {
    to.dropouts += more.dropouts;
    to.false_shows += more.false_shows;
    to.missed += more.missed;
}

template <class Latencies>
void append(Latencies& to, const Latencies& later) {
    for (std::size_t i = 0; i < to.size(); ++i) {
        to[i].worst.append(later[i].worst);
        to[i].sum_us += later[i].sum_us;
    }
}

template <class Latencies>
void add(Latencies& to, const std::vector<Scored>& latencies, std::int64_t ride) {
    for (const Scored& scored : latencies) {
        SoakLatency& latency = to[static_cast<std::size_t>(figure_of(scored.what))];
        latency.worst.add(scored.value_us, ride);
        latency.sum_us += scored.value_us;
    }
}

SoakErrors errors_of(const SoakVerdict& verdict) {
    SoakErrors errors;
    for (const SoakFinding& finding : verdict.findings) {
        errors.dropouts += finding.kind == SoakKind::dropout;
        errors.false_shows += finding.kind == SoakKind::false_show;
        errors.missed += finding.kind == SoakKind::missed;
    }
    return errors;
}

/// The plain hold on one ride.
struct PlainAnswer {
    explicit PlainAnswer(const Ride& ride) {
        for_each_scored(ride.truth, decode(ride.trace, plain_hold(plain_hold_us)),
                        [this](const Scored& scored) {
                            errors.dropouts += scored.what == ScoredWhat::dropout;
                            errors.false_shows += scored.what == ScoredWhat::false_show;
                            errors.missed += scored.what == ScoredWhat::missed;
                            if (is_latency(scored.what)) latencies.push_back(scored);
                        });
    }

    SoakErrors errors;
    std::vector<Scored> latencies;
};

double a_request(std::int64_t count, std::int64_t requests) {
    return requests > 0 ? static_cast<double>(count) / static_cast<double>(requests) : 0;
}

} // namespace

void SoakCount::add(TimeUs value_us, std::int64_t in_ride) {
    append({1, value_us, in_ride});
}

void SoakCount::append(const SoakCount& later) {
    if (later.ride >= 0 && (ride < 0 || later.worst_us > worst_us)) {
        worst_us = later.worst_us;
        ride = later.ride;
    }
    count += later.count;
}

std::int64_t PopulationTally::count(SoakKind kind) const {
    std::int64_t sum = 0;
    for (const SoakCount& cause : findings[static_cast<std::size_t>(kind)])
        sum += cause.count;
    return sum;
}

SoakErrors PopulationTally::errors() const {
    return {count(SoakKind::dropout), count(SoakKind::false_show), count(SoakKind::missed)};
}

void SoakTally::add(std::int64_t ride, const SoakRun& run) {
    PopulationTally& to = populations[static_cast<std::size_t>(run.soak.population)];
    const PlainAnswer plain(run.ride);
    const auto requests = static_cast<std::int64_t>(run.ride.truth.requests.size());
    ++to.rides;
    for (const Request& request : run.ride.truth.requests)
        to.flashes += request.flashes;
    to.requests += requests;
    measure::add(to.latencies, run.verdict.latencies, ride);
    measure::add(to.plain_latencies, plain.latencies, ride);
    measure::add(to.plain, plain.errors);
    for (const SoakFinding& finding : run.verdict.findings)
        to.findings[static_cast<std::size_t>(finding.kind)][static_cast<std::size_t>(finding.cause)].add(
            finding.value_us, ride);
    for (const SoakAxis axis : run.soak.axes) {
        AxisTally& tally = axes[static_cast<std::size_t>(axis)];
        ++tally.rides;
        tally.requests += requests;
        tally.kinds += requests * static_cast<std::int64_t>(run.soak.axes.size());
        measure::add(tally.errors, errors_of(run.verdict));
        measure::add(tally.plain, plain.errors);
    }
}

void SoakTally::append(const SoakTally& later) {
    for (std::size_t p = 0; p < soak_populations.size(); ++p) {
        PopulationTally& to = populations[p];
        const PopulationTally& from = later.populations[p];
        to.rides += from.rides;
        to.flashes += from.flashes;
        to.requests += from.requests;
        measure::append(to.latencies, from.latencies);
        measure::append(to.plain_latencies, from.plain_latencies);
        measure::add(to.plain, from.plain);
        for (std::size_t kind = 0; kind < soak_kinds.size(); ++kind)
            for (std::size_t cause = 0; cause < soak_causes.size(); ++cause)
                to.findings[kind][cause].append(from.findings[kind][cause]);
    }
    for (std::size_t i = 0; i < soak_axes.size(); ++i) {
        axes[i].rides += later.axes[i].rides;
        axes[i].requests += later.axes[i].requests;
        axes[i].kinds += later.axes[i].kinds;
        measure::add(axes[i].errors, later.axes[i].errors);
        measure::add(axes[i].plain, later.axes[i].plain);
    }
}

std::int64_t SoakTally::flashes() const {
    std::int64_t sum = 0;
    for (const PopulationTally& population : populations)
        sum += population.flashes;
    return sum;
}

std::int64_t SoakTally::unexplained() const {
    std::int64_t sum = 0;
    for (const PopulationTally& population : populations)
        for (const auto& kind : population.findings)
            for (std::size_t cause = 0; cause < soak_causes.size(); ++cause)
                if (soak_causes[cause].blame == Blame::unexplained) sum += kind[cause].count;
    return sum;
}

std::vector<SoakMiss> SoakTally::misses() const {
    std::vector<SoakMiss> misses;
    const auto hold_to = [&](std::string_view where, std::int64_t requests, std::int64_t kinds,
                             const SoakErrors& mine, const SoakErrors& plain) {
        const auto at_most = [&](std::string_view what, std::int64_t count, double limit) {
            if (const double value = a_request(count, requests); value > limit)
                misses.push_back({where, what, value, limit});
        };
        at_most("dropouts", mine.dropouts,
                a_request(plain.dropouts, requests) + more_dropouts * a_request(kinds, requests));
        at_most("false shows", mine.false_shows, a_request(plain.false_shows, requests) + more_false_shows);
    };
    const auto as_set = static_cast<std::size_t>(SoakPopulation::as_set);
    hold_to(soak_populations[as_set], populations[as_set].requests, 0, populations[as_set].errors(),
            populations[as_set].plain);
    for (std::size_t i = 0; i < axes.size(); ++i)
        hold_to(soak_axes[i], axes[i].requests, axes[i].kinds, axes[i].errors, axes[i].plain);
    return misses;
}

} // namespace winkhold::measure
