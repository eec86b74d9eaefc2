/// Edges that are looked at once more.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include <cstdio>
#include <memory>
#include <vector>

namespace winkhold::taps {

/// Keeps edges, so that what came through a pipe can be gone through again; many of them in a temporary file,
/// so that memory stays flat.
class KeptEdges {
public:
    /// Throws InputError if no temporary file can be made, or the folder for them is full.
    void keep(const Edge& edge);

    /// All of them in the order in which they came. Throws InputError if not all could be read back.
    template <class See>
    void for_each(See&& see) {
        if (file_) std::rewind(file_.get());
        std::vector<Edge> block;
        for (std::size_t left = in_file_; left > 0; left -= block.size()) {
            read_block(block, left);
            for (const Edge& edge : block)
                see(edge);
        }
        for (const Edge& edge : edges_)
            see(edge);
    }

private:
    static constexpr std::size_t most_in_memory = 1 << 16;

    void spill();
    void read_block(std::vector<Edge>& block, std::size_t left);

    std::vector<Edge> edges_; ///< those behind the ones in the file
    std::unique_ptr<std::FILE, int (*)(std::FILE*)> file_{nullptr, std::fclose};
    std::size_t in_file_{0};
};

} // namespace winkhold::taps
