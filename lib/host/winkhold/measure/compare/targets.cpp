#include "winkhold/measure/compare/compare.hpp"

#include "winkhold/base/detail/numbers.hpp"

namespace winkhold::measure {
namespace {

constexpr double most_late_dropouts_per_million = 3;
constexpr TimeUs newcomer_us = 40'000; ///< may pass until a newcomer counts as one

class Judge {
public:
    /// A target. Figures no greater than the limit meet it.
    void at_most(const char* what, const char* unit, double value, double limit) {
        if (value > limit) misses_.push_back({0, what, unit, value, limit});
    }
    /// Nothing may be worse than under the fixed hold.
    void no_worse(const DecoderFigures& mine, const DecoderFigures& fixed) {
        const auto counted = [this](const char* what, std::int64_t value, std::int64_t limit) {
            at_most(what, "", static_cast<double>(value), static_cast<double>(limit));
        };
        counted("dropouts against fixed 840", mine.dropouts, fixed.dropouts);
        counted("late dropouts against fixed 840", mine.late_dropouts, fixed.late_dropouts);
        counted("false shows against fixed 840", mine.false_shows, fixed.false_shows);
        counted("missed against fixed 840", mine.missed, fixed.missed);
        const auto timed = [this](const char* mean, const char* p99, const Summary& value,
                                  const Summary& limit, TimeUs more_us = 0) {
            at_most(mean, "ms", ms(value.mean_us), ms(limit.mean_us + static_cast<double>(more_us)));
            at_most(p99, "ms", ms(value.p99_us), ms(limit.p99_us + more_us));
        };
        timed("mean release against fixed 840", "release p99 against fixed 840", mine.release, fixed.release);
        timed("mean overlap against fixed 840", "overlap p99 against fixed 840", mine.overlap, fixed.overlap);
        timed("mean acquire against fixed 840", "acquire p99 against fixed 840", mine.fresh_acquire,
              fixed.fresh_acquire);
        timed("mean acquire after a change against fixed 840", "acquire p99 after a change against fixed 840",
              mine.change_acquire, fixed.change_acquire, newcomer_us);
    }
    std::vector<Miss> misses() && { return std::move(misses_); }

private:
    std::vector<Miss> misses_;
};

} // namespace

std::vector<Miss> judge_cell(const Cell& cell, const RidesFigures& figures) {
    const DecoderFigures& mine = figures.decoders[default_decoder];
    const DecoderFigures& bound = figures.bound;
    Judge judge;
    judge.at_most("overlap p99", "ms", ms(mine.overlap.p99_us), ms(bound.overlap.p99_us + 5'000));
    if (cell.side_change != SideChange::whole_cycle) {
        judge.at_most("mean release", "ms", ms(mine.release.mean_us),
                      ms(1.25 * bound.release.mean_us + 10'000));
        judge.at_most("mean early release", "ms", ms(mine.early_release.mean_us),
                      ms(1.5 * bound.early_release.mean_us + 60'000));
    }
    judge.at_most("late dropouts", "per million", per_million(mine.late_dropouts, figures.late_flashes),
                  most_late_dropouts_per_million);
    judge.at_most("false shows", "", static_cast<double>(mine.false_shows), 0);
    judge.no_worse(mine, figures.decoders[fixed_840]);
    return std::move(judge).misses();
}

} // namespace winkhold::measure
