#include "winkhold/measure/families/run.hpp"

#include "winkhold/base/detail/parallel.hpp"

#include <iterator>

namespace winkhold::measure {
namespace {

/// Some scenarios whose rides are added up. Ride i is of scenario i modulo their number.
struct Piece {
    std::vector<Scenario> scenarios;
    std::int64_t rides;
    std::vector<FamilyFigures> figures; ///< by decoder
};

void ride(Piece& piece, const std::vector<core::Settings>& decoders, std::uint64_t seed) {
    piece.figures.resize(decoders.size());
    const auto scenarios = static_cast<std::int64_t>(piece.scenarios.size());
    for (std::int64_t i = 0; i < piece.rides; ++i) {
        Scenario scenario = piece.scenarios[static_cast<std::size_t>(i % scenarios)];
        scenario.flasher.side_change = all_side_changes[i / scenarios % std::ssize(all_side_changes)];
        RideMaker maker(scenario);
        const Ride& ride = maker.make(seed, static_cast<std::uint64_t>(i));
        for (std::size_t d = 0; d < decoders.size(); ++d)
            add_ride(ride, decoders[d], piece.figures[d]);
    }
}

void add(const std::vector<FamilyFigures>& more, std::vector<FamilyFigures>& sum) {
    sum.resize(more.size());
    for (std::size_t d = 0; d < more.size(); ++d)
        sum[d] += more[d];
}

/// Every two variants that can be mixed.
std::vector<Scenario> mixtures(const Family& first, const Family& second) {
    std::vector<Scenario> mixed;
    for (std::size_t i = 0; i < first.variants.size(); ++i)
        for (std::size_t k = 0; k < second.variants.size(); ++k)
            if (std::optional<Scenario> both = mixture(first, i, second, k))
                mixed.push_back(*std::move(both));
    return mixed;
}

} // namespace

FamilyFigures& FamilyFigures::operator+=(const FamilyFigures& more) {
    requests += more.requests;
    dropouts += more.dropouts;
    away_us += more.away_us;
    false_shows += more.false_shows;
    lone_hazards += more.lone_hazards;
    return *this;
}

FamilyRun run_families(std::vector<Family> families, const std::vector<core::Settings>& decoders,
                       const FamilyPlan& plan, const Progress& progress) {
    FamilyRun run{std::move(families), {}};
    std::vector<Piece> pieces;
    for (std::size_t i = 0; i < run.families.size(); ++i) {
        run.rows.push_back({{i}, {}, {}});
        for (const Variant& variant : run.families[i].variants)
            pieces.push_back({{variant.scenario}, plan.rides, {}});
    }
    for (std::size_t i = 0; plan.mixed_rides > 0 && i < run.families.size(); ++i)
        for (std::size_t k = i + 1; k < run.families.size(); ++k)
            if (std::vector<Scenario> mixed = mixtures(run.families[i], run.families[k]); !mixed.empty()) {
                run.rows.push_back({{i, k}, {}, {}});
                pieces.push_back({std::move(mixed), plan.mixed_rides, {}});
            }
    for_each_index(
        pieces.size(), plan.threads, [&](std::size_t i) { ride(pieces[i], decoders, plan.seed); }, progress);
    auto piece = pieces.begin();
    for (FamilyRow& row : run.rows) {
        const bool mixed = row.families.size() > 1;
        const std::size_t parts = mixed ? 1 : run.families[row.families.front()].variants.size();
        for (std::size_t i = 0; i < parts; ++i, ++piece) {
            add(piece->figures, row.all);
            if (!mixed) row.variants.push_back(std::move(piece->figures));
        }
    }
    return run;
}

double mean_dropout_rate(const FamilyRun& run, std::size_t decoder) {
    double sum = 0;
    for (std::size_t i = 0; i < run.families.size(); ++i)
        sum += run.rows[i].all[decoder].dropout_rate();
    return run.families.empty() ? 0 : sum / static_cast<double>(run.families.size());
}

} // namespace winkhold::measure
