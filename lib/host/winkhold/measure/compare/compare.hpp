/// How near the default decoder comes to the clairvoyant bound, and what plainer decoders cost: cell by cell.
#pragma once

#include "winkhold/base/progress.hpp"
#include "winkhold/measure/compare/rides.hpp"

namespace winkhold::measure {

/// One kind of bike: every combination of period, share lit, flasher and jitter is a cell.
struct Cell {
    SideChange side_change{SideChange::restart};
    TimeUs period_us{0};
    int duty_percent{0};
    int jitter_percent{0};

    /// The dark phase of each flash. Unit: us.
    double dark_us() const { return static_cast<double>(period_us) * (100 - duty_percent) / 100; }
};

/// The decoders of each cell, plainest first.
enum CellDecoder : std::size_t {
    fixed_fitted, ///< fixed hold of this bike's dark gap + 40 ms
    fixed_840,
    paced,          ///< by the learned dark gaps + 40 ms, nothing else
    paced_handover, ///< and a handover window of 30 ms, both sides shown until it ends
    default_decoder,
    cell_decoders
};

inline constexpr const char* cell_decoder_names[] = {"fixed, dark gap + 40 ms", "fixed 840 ms", "paced",
                                                     "paced, handover 30 ms", "default"};

/// A target that the default decoder misses in a cell.
struct Miss {
    std::size_t cell{0};
    std::string what;
    std::string unit; ///< "ms", "per million" or empty: a count
    double value{0};
    double limit{0};
};

/// How much is compared, and from which seed.
struct ComparePlan {
    std::int64_t flashes{200'000}; ///< at least so many in each cell
    std::uint64_t seed{1};
    int threads{1};
};

/// All cells, with every decoder's figures and the targets they miss.
struct Comparison {
    ComparePlan plan;
    std::vector<Cell> cells;
    std::vector<RidesFigures> figures; ///< of each cell; decoders by CellDecoder
    std::vector<Miss> misses;
};

/// 500, 706 and 1000 ms, lit 30, 50 and 70 %, three flashers, jitter 0, 1 and 5 %; jitter changes slowest.
std::vector<Cell> all_cells();

/// The rides of a cell: bounce 3 ms, switch transit 70 ms, twenty requests of 4 flashes and more.
Scenario cell_scenario(const Cell& cell);

/// A decoder may learn from so many flashes of a ride; what begins after them is judged.
inline constexpr int known_flashes = 16;

/// Targets are for cells of this jitter.
inline constexpr int judged_jitter_percent = 1;

/// What the default decoder misses in one such cell. Targets:
/// - overlap p99: the bound's + 5 ms
/// - mean release: 1.25 x the bound's + 10 ms (not with a whole-cycle flasher)
/// - mean release before the judged requests: 1.5 x the bound's + 60 ms (nor that)
/// - late dropouts: 3 in a million late flashes
/// - false shows: none
/// - and nothing worse than under a fixed hold of 840 ms; a newcomer to whom the other side makes way may be
///   shown 40 ms later
std::vector<Miss> judge_cell(const Cell& cell, const RidesFigures& figures);

/// All cells. The same whatever the number of threads; progress counts cells.
Comparison compare(const ComparePlan& plan, const Progress& progress = {});

} // namespace winkhold::measure
