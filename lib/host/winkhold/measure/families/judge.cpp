#include "winkhold/measure/families/judge.hpp"

namespace winkhold::measure {

FamilyVerdict judge_families(const FamilyRun& run, std::size_t decoder, std::size_t plain, bool all) {
    using enum FamilyMiss::What;
    FamilyVerdict verdict;
    if (all) verdict.mean_dropouts = mean_dropout_rate(run, decoder);
    for (std::size_t i = 0; i < run.rows.size(); ++i) {
        const FamilyRow& row = run.rows[i];
        const FamilyFigures& mine = row.all[decoder];
        const FamilyFigures& hold = row.all[plain];
        const auto at_most = [&](FamilyMiss::What what, double value, double limit) {
            if (value > limit) verdict.misses.push_back({i, what, value, limit});
        };
        const auto kinds = static_cast<double>(row.families.size());
        at_most(dropouts, mine.dropout_rate(), hold.dropout_rate() + more_dropouts * kinds);
        at_most(false_shows, mine.false_show_rate(), hold.false_show_rate() + more_false_shows);
        at_most(lone_hazards, static_cast<double>(mine.lone_hazards), 0);
    }
    return verdict;
}

} // namespace winkhold::measure
