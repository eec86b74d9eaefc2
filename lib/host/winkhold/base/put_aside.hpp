/// Text whose turn comes later.
#pragma once

#include "winkhold/base/wings.hpp"

#include <iosfwd>
#include <memory>

namespace winkhold::base {

/// However much there is: in a temporary file, so that memory stays flat.
class PutAside {
public:
    /// Throws InputError if no temporary file can be made.
    PutAside();
    ~PutAside();
    PutAside(const PutAside&) = delete;
    PutAside& operator=(const PutAside&) = delete;

    /// What is written here comes out by write_to().
    std::ostream& stream();
    /// All of it, in the order in which it came. Throws InputError if not all of it could be kept.
    void write_to(std::ostream& out);

private:
    struct Kept;
    std::unique_ptr<Kept> kept_;
};

} // namespace winkhold::base
