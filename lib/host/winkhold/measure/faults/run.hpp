/// The whole catalogue over decoders, variants and seeds.
#pragma once

#include "winkhold/base/progress.hpp"
#include "winkhold/measure/faults/judge.hpp"

namespace winkhold::measure {

/// A decoder that goes through the catalogue.
struct NamedDecoder {
    std::string name; ///< "default"
    core::Settings settings;
};

/// How an entry ended.
enum class FaultVerdict { // from best to worst
    good,
    cannot_tell, ///< limits were broken, but only under a flag that the decoder itself raised
    falls_short,
};

/// One fault under one decoder, over all rides.
struct FaultResult {
    FaultVerdict verdict{FaultVerdict::good};
    std::int64_t rides{0};
    std::int64_t rides_short{0}; ///< a limit broken and no excuse
    std::int64_t rides_cannot_tell{0};
    FaultFigure worst; ///< of the worst ride
    std::uint64_t worst_seed{0};
    std::string worst_variant;
    std::vector<std::string> short_variants; ///< those that fall short in some ride
    std::vector<std::string> broken;         ///< every kind of limit broken in some ride
    unsigned flags{0};                       ///< raised in some ride
};

/// One entry, decoded by every decoder.
struct FaultRun {
    std::vector<NamedDecoder> decoders;
    std::vector<FaultCase> faults;
    std::vector<std::vector<FaultResult>> results; ///< [fault][decoder]
    std::uint64_t seeds{0};
};

/// Rides with seeds 1 to `seeds` for every variant of every fault. The same whatever `threads` is. Progress
/// counts faults.
FaultRun run_faults(std::vector<FaultCase> faults, std::vector<NamedDecoder> decoders, std::uint64_t seeds,
                    int threads, const Progress& progress = {});

} // namespace winkhold::measure
