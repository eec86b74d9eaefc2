#include "winkhold/taps/inspect/detail/kept_edges.hpp"

#include "winkhold/base/error.hpp"

#include <algorithm>
#include <type_traits>

namespace winkhold::taps {

static_assert(std::is_trivially_copyable_v<Edge>, "edges are written as they are in memory");

void KeptEdges::keep(const Edge& edge) {
    if (edges_.size() == most_in_memory) spill();
    edges_.push_back(edge);
}

void KeptEdges::spill() {
    if (!file_) file_.reset(std::tmpfile());
    if (!file_)
        throw InputError("no temporary file can be made; is the disk full, or the folder for them missing?");
    if (std::fwrite(edges_.data(), sizeof(Edge), edges_.size(), file_.get()) != edges_.size())
        throw InputError("the folder for temporary files is full");
    in_file_ += edges_.size();
    edges_.clear();
}

void KeptEdges::read_block(std::vector<Edge>& block, std::size_t left) {
    block.resize(std::min(left, most_in_memory));
    if (std::fread(block.data(), sizeof(Edge), block.size(), file_.get()) != block.size())
        throw InputError("a temporary file can't be read back; is the folder for them full?");
}

} // namespace winkhold::taps
