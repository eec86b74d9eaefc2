#include "winkhold/bike/limits/judge.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/bike/limits/detail/readings.hpp"
#include "winkhold/bike/limits/detail/rests_on.hpp"
#include "winkhold/bike/limits/detail/steady_runs.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace winkhold::bike {
namespace {

Readings read(const Limit& limit, std::span<const Observed> observed, const Lamps& lamps) {
    if (is_of_turn_lamps(limit.measure)) return read_places(limit, lamps);
    switch (limit.measure) {
    case LimitMeasure::flash_rate:
    case LimitMeasure::on_share:
        return read_flash_rates(limit, observed);
    case LimitMeasure::first_light:
    case LimitMeasure::first_dark:
    case LimitMeasure::first_dark_mean:
    case LimitMeasure::first_cycle:
    case LimitMeasure::first_cycle_mean:
        return read_starts(limit, observed);
    case LimitMeasure::hazard_phase:
        return read_hazards(observed);
    case LimitMeasure::by_hand:
        return {};
    default:
        return read_lamps(limit, observed, lamps);
    }
}

/// Room to the nearer limit, in the limit's unit, and the figure that is so near.
struct Room {
    double value{0};
    double margin{0};
};

Room room_of(const Reading& reading, const Limit& limit) {
    // sums of many cycles' rates are this exact
    constexpr double rounding = 1e-12;
    const double one = scale(limit.unit);
    const auto clean = [&](double margin, double bound) {
        return std::abs(margin) <= rounding * bound ? 0.0 : margin;
    };
    std::optional<Room> nearest;
    if (limit.least) {
        const double value = reading.for_least / one;
        nearest = Room{value, clean(value - *limit.least, *limit.least)};
    }
    if (limit.most) {
        const double value = reading.for_most / one;
        const double margin = clean(*limit.most - value, *limit.most);
        if (!nearest || margin < nearest->margin) nearest = Room{value, margin};
    }
    return *nearest;
}

void rule_on(Finding& finding, const Readings& readings) {
    const Limit& limit = finding.limit;
    finding.readings = static_cast<std::int64_t>(readings.all.size());
    const Reading* worst = nullptr;
    Room room;
    for (const Reading& reading : readings.all)
        if (const Room its = room_of(reading, limit); worst == nullptr || its.margin < room.margin) {
            worst = &reading;
            room = its;
        }
    if (worst == nullptr) {
        finding.why = readings.unknown.empty() ? readings.why_none : joined(readings.unknown, "; ");
        return;
    }
    finding.value = room.value;
    finding.margin = room.margin;
    finding.where = worst->where;
    finding.at_us = worst->at_us;
    finding.trial = worst->trial;
    finding.at_least = worst->at_least;
    finding.rate = worst->rate;
    finding.ruling = room.margin < 0 ? Ruling::broken : Ruling::kept;
    if (finding.ruling == Ruling::broken || readings.unknown.empty()) return;
    finding.ruling = Ruling::not_judged;
    finding.why = fmt::format("what is known keeps it, but {}", joined(readings.unknown, "; "));
}

/// What rests on values that nobody who knows the bike has given is no judgement, and its figure none of this
/// bike's. What an assumed place or kind of vehicle breaks is told; it passes nothing.
void doubt(Finding& finding, const Lamps& lamps, const Basis& basis) {
    const Limit& limit = finding.limit;
    if (limit.measure == LimitMeasure::by_hand) return;
    if (const std::string why = why_bike_not_known(limit, lamps, basis); !why.empty()) {
        Finding unknown;
        unknown.limit = limit;
        unknown.why = why;
        finding = unknown;
        return;
    }
    const std::string why = why_limit_not_known(limit, basis);
    if (why.empty() || finding.ruling != Ruling::kept) return;
    finding.ruling = Ruling::not_judged;
    finding.why = why;
}

/// Empty if the limit holds for what is stated.
std::string why_not_for(const Limit& limit, const std::set<std::string>& stated) {
    for (const std::string& condition : limit.only_if)
        if (!stated.contains(condition)) return fmt::format("holds only for {0} (--if {0})", condition);
    for (const std::string& condition : limit.unless)
        if (stated.contains(condition)) return fmt::format("does not hold for {}", condition);
    return {};
}

Finding find(const Limit& limit, const std::set<std::string>& stated, std::span<const Observed> observed,
             const Lamps& lamps, const Basis& basis) {
    Finding finding;
    finding.limit = limit;
    finding.why = why_not_for(limit, stated);
    if (!finding.why.empty()) return finding;
    rule_on(finding, read(limit, observed, lamps));
    doubt(finding, lamps, basis);
    return finding;
}

/// The published ceiling of all places, 120/min; beyond it a lamp may have failed: flashers tell it so (data
/// sheets, read). Most cycles must be so short, lest a supply dip or a few flicks count.
bool is_fast(const SteadyRun& run) {
    constexpr double most_per_min = 120;
    std::vector<TimeUs> each_us = periods_us(run.cycles);
    return each_us.size() >= 3 && flash_rate_of(each_us).mean_of_rates_per_min > most_per_min &&
           static_cast<double>(lengths_of(each_us).p50_us) < 60e6 / most_per_min;
}

/// 4.0 +- 1.0 Hz on both sides at once: UN R53 6.14.7.1 (quoted).
bool looks_like_emergency_stop(const SteadyRun& run, const Observed& ride) {
    const double rate = flash_rate_of(periods_us(run.cycles)).mean_of_rates_per_min;
    if (rate < 180 || rate > 300) return false;
    return std::any_of(ride.signals.begin(), ride.signals.end(), [&](const Signal& other) {
        return other.of == run.signal->of && other.side != run.signal->side &&
               std::any_of(other.lights.begin(), other.lights.end(), [&](const SeenLight& light) {
                   return light.on_us < run.last_rise_us() && light.off_us > run.first_rise_us();
               });
    });
}

void note_fast_flashes(std::span<const Observed> observed, std::vector<std::string>& notes) {
    std::set<std::string> told;
    for (const Observed& ride : observed)
        for (const Signal& signal : ride.signals)
            for (const SteadyRun& run : steady_runs(signal, ride.asked)) {
                if (!is_fast(run) || !told.insert(signal.name()).second) continue;
                notes.push_back(fmt::format(
                    "The {} flashes at {:.1f}/min from {:.1f} s on, over 120/min: a lamp may have failed, or "
                    "the flasher is not for this load{}.",
                    signal.name(), flash_rate_of(periods_us(run.cycles)).mean_of_rates_per_min,
                    static_cast<double>(run.first_rise_us()) / 1e6,
                    looks_like_emergency_stop(run, ride)
                        ? "; or this is an emergency stop signal (--if emergency-stop-signal)"
                        : ""));
            }
}

} // namespace

std::int64_t Judgement::count(Ruling ruling) const {
    return std::count_if(findings.begin(), findings.end(),
                         [&](const Finding& finding) { return finding.ruling == ruling; });
}

Judgement judge(const Profile& profile, const std::set<std::string>& stated,
                std::span<const Observed> observed, const Lamps& lamps, const Basis& basis) {
    Judgement judgement;
    judgement.profile = profile;
    for (const Limit& limit : profile.limits)
        judgement.findings.push_back(find(limit, stated, observed, lamps, basis));
    note_fast_flashes(observed, judgement.notes);
    for (const Observed& ride : observed)
        for (const std::string& note : ride.notes)
            if (std::find(judgement.notes.begin(), judgement.notes.end(), note) == judgement.notes.end())
                judgement.notes.push_back(note);
    return judgement;
}

} // namespace winkhold::bike
