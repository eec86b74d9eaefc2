#include "winkhold/measure/soak/cause.hpp"

#include "winkhold/measure/soak/detail/evidence.hpp"
#include "winkhold/measure/soak/detail/rule_causes.hpp"

namespace winkhold::measure {
namespace {

SoakKind kind_of(ScoredWhat what) {
    switch (what) {
    case ScoredWhat::dropout:
        return SoakKind::dropout;
    case ScoredWhat::false_show:
        return SoakKind::false_show;
    case ScoredWhat::missed:
        return SoakKind::missed;
    case ScoredWhat::acquire:
        return SoakKind::late_acquire;
    case ScoredWhat::release:
        return SoakKind::late_release;
    case ScoredWhat::overlap:
        return SoakKind::late_overlap;
    }
    return SoakKind::dropout;
}

} // namespace

void judge_soak_ride(const SoakRide& soak, const Ride& ride, const Timeline& timeline, SoakVerdict& verdict,
                     const Trace* undisturbed) {
    verdict.findings.clear();
    verdict.latencies.clear();
    const Evidence evidence(ride, undisturbed);
    RuleCauses rules(soak, ride, timeline, evidence);
    for_each_scored(ride.truth, timeline, [&](const Scored& scored) {
        const bool latency = scored.what == ScoredWhat::acquire || scored.what == ScoredWhat::release ||
                             scored.what == ScoredWhat::overlap;
        if (latency)
            verdict.latencies.push_back(
                {scored.what, scored.t_us, scored.value_us, scored.side, nullptr, nullptr});
        if (latency && scored.value_us <= rules.limit_us(scored)) return;
        // what is never shown is told once, as missed
        if (scored.what == ScoredWhat::acquire && scored.t_us == scored.asked->shown_by_us) return;
        const std::optional<Cause> planted = evidence.before(rules.when_us(scored));
        verdict.findings.push_back({kind_of(scored.what), planted ? *planted : rules.cause(scored),
                                    scored.side, scored.t_us, latency ? scored.value_us : 0});
    });
}

} // namespace winkhold::measure
