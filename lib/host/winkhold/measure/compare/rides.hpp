/// Several decoders on the same rides, and the clairvoyant bound beside them.
#pragma once

#include "winkhold/base/statistics/summary.hpp"
#include "winkhold/measure/score/plain_hold.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

#include <string>
#include <vector>

namespace winkhold::measure {

/// A decoder that is run beside others.
struct ComparedDecoder {
    std::string name;
    core::Settings settings;
    bool knows_gap{false}; ///< somebody has measured each bike: its dark gap is the gap prior
};

/// What one decoder made of all rides; rules of counting: score/figures.hpp.
struct DecoderFigures {
    std::int64_t dropouts{0};
    std::int64_t late_dropouts{0}; ///< those after the third light of their request has ended
    std::int64_t false_shows{0};
    std::int64_t missed{0};
    Summary overlap;
    Summary release;
    Summary acquire;
    Summary fresh_acquire;  ///< those of requests that don't take over from the other side at once
    Summary change_acquire; ///< and those that do
    Summary early_release;  ///< of the requests before those that are judged
};

/// What each decoder did on the same rides, and the bound.
struct RidesFigures {
    std::int64_t flashes{0};      ///< of the requests that are judged
    std::int64_t late_flashes{0}; ///< those after the first three of their request
    std::vector<DecoderFigures> decoders;
    DecoderFigures bound; ///< settle and handover window are those of the scenario's decoder; counts are 0
};

/// Makes trials 0, 1, ... until they hold `flashes` flashes; each is made once and replayed on every decoder.
/// Only requests that begin after `known_flashes` flashes of their ride are judged, and only their flashes
/// count.
RidesFigures compare_on_rides(const Scenario& scenario, const std::vector<ComparedDecoder>& decoders,
                              std::int64_t flashes, std::uint64_t seed, int known_flashes = 0);

} // namespace winkhold::measure
