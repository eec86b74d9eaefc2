/// What a soak has done so far, kept so that it may be killed at any moment.
#pragma once

#include "winkhold/measure/soak/detail/shard_sum.hpp"
#include "winkhold/measure/soak/soak.hpp"

#include <string_view>

namespace winkhold::measure {

/// A text file that only grows: a head that says which run it belongs to, then a line for each shard, each
/// with its CRC-32. A line counts once its line feed is there; what follows the last one was torn by a kill
/// and is dropped. Everything else that doesn't fit is refused.
class StateFile {
public:
    /// Opens or begins the file and takes over its shards into `done`. Throws InputError.
    StateFile(const SoakPlan& plan, ShardSum& done);
    ~StateFile();
    StateFile(const StateFile&) = delete;
    StateFile& operator=(const StateFile&) = delete;

    /// Not for two threads at once. Throws InputError if the disk is full.
    void append(std::int64_t shard, const SoakTally& tally);

private:
    void take_over(const std::string& text, const std::string& head, ShardSum& done);
    void take_line(std::string_view line, std::int64_t number, ShardSum& done);
    [[noreturn]] void refuse(std::int64_t line, const std::string& what) const;
    void write(const std::string& text);

    std::string path_;
    std::int64_t shards_;
    int file_{-1};
};

} // namespace winkhold::measure
