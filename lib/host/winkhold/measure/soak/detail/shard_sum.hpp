/// Shards that become known in any order, added up in theirs.
#pragma once

#include "winkhold/measure/soak/tally.hpp"

#include <map>

namespace winkhold::measure {

/// Keeps no more tallies than there are shards before a gap, so that memory doesn't grow with the run.
class ShardSum {
public:
    bool has(std::int64_t shard) const { return shard < added_ || ahead_.contains(shard); }

    /// Not one that is there.
    void put(std::int64_t shard, const SoakTally& tally) {
        ahead_.emplace(shard, tally);
        for (auto next = ahead_.begin(); next != ahead_.end() && next->first == added_; ++added_) {
            sum_.append(next->second);
            next = ahead_.erase(next);
        }
    }

    std::int64_t count() const { return added_ + static_cast<std::int64_t>(ahead_.size()); }
    const SoakTally& sum() const { return sum_; }

private:
    SoakTally sum_;
    std::int64_t added_{0}; ///< shards below this are in the sum
    std::map<std::int64_t, SoakTally> ahead_;
};

} // namespace winkhold::measure
