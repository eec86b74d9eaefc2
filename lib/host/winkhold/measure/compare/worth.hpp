/// What each rule of the decoder costs and gains: the default with one thing changed at a time.
#pragma once

#include "winkhold/measure/compare/rides.hpp"
#include "winkhold/measure/families/run.hpp"
#include "winkhold/measure/faults/run.hpp"

namespace winkhold::measure {

/// How much is run to tell what each rule is worth, and on whose data.
struct WorthPlan {
    std::string data; ///< folder with scenarios/, faults/ and families/; empty: what is carried along
    std::int64_t flashes{200'000}; ///< at least so many of each kind of ride
    std::uint64_t seed{1};         ///< of the rides
    std::uint64_t fault_seeds{20}; ///< rides for each variant of a fault
    std::int64_t family_rides{12}; ///< rides for each variant of a family
    int threads{1};
};

/// One row: the default, or the default with one thing changed.
struct RuleRow {
    ComparedDecoder decoder;
    DecoderFigures unknown;
    DecoderFigures jittery;
    double family_dropouts{0};              ///< a request: the mean over the families
    std::vector<std::string> faults_passed; ///< ids: good, or not to be told by timing and flagged so
};

/// One row for the default and for each rule changed.
struct WorthTable {
    WorthPlan plan;
    std::int64_t unknown_flashes{0};
    std::int64_t jittery_flashes{0};
    std::size_t faults{0};
    std::size_t families{0};
    std::vector<RuleRow> rows; ///< the default first
};

/// Rides of scenarios/unknown.toml, rides of scenarios/nominal.toml with jitter 5 %, every fault and every
/// family. The same whatever the number of threads; progress counts pieces of unlike size. Throws InputError
/// from the files.
WorthTable try_without(const WorthPlan& plan, const Progress& progress = {});

} // namespace winkhold::measure
