#include "winkhold/measure/soak/tally.hpp"

namespace winkhold::measure {
namespace {

SoakFigure figure_of(ScoredWhat what) {
    return what == ScoredWhat::acquire   ? SoakFigure::acquire
           : what == ScoredWhat::release ? SoakFigure::release
                                         : SoakFigure::overlap;
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

void SoakTally::add(std::int64_t ride, SoakPopulation population, std::int64_t flashes,
                    const SoakVerdict& verdict) {
    PopulationTally& to = populations[static_cast<std::size_t>(population)];
    ++to.rides;
    to.flashes += flashes;
    for (const Scored& scored : verdict.latencies) {
        SoakLatency& latency = to.latencies[static_cast<std::size_t>(figure_of(scored.what))];
        latency.worst.add(scored.value_us, ride);
        latency.sum_us += scored.value_us;
    }
    for (const SoakFinding& finding : verdict.findings)
        to.findings[static_cast<std::size_t>(finding.kind)][static_cast<std::size_t>(finding.cause)].add(
            finding.value_us, ride);
}

void SoakTally::append(const SoakTally& later) {
    for (std::size_t p = 0; p < soak_populations.size(); ++p) {
        PopulationTally& to = populations[p];
        const PopulationTally& from = later.populations[p];
        to.rides += from.rides;
        to.flashes += from.flashes;
        for (std::size_t i = 0; i < soak_figures.size(); ++i) {
            to.latencies[i].worst.append(from.latencies[i].worst);
            to.latencies[i].sum_us += from.latencies[i].sum_us;
        }
        for (std::size_t kind = 0; kind < soak_kinds.size(); ++kind)
            for (std::size_t cause = 0; cause < soak_causes.size(); ++cause)
                to.findings[kind][cause].append(from.findings[kind][cause]);
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

} // namespace winkhold::measure
