/// A stream's bytes on their way to a descriptor.
#pragma once

#include "winkhold/base/wings.hpp"

#include <array>
#include <streambuf>

namespace winkhold::base {

/// What can't be written fails the stream. Does not close the descriptor.
class DescriptorBuffer : public std::streambuf {
public:
    explicit DescriptorBuffer(int descriptor);

protected:
    int_type overflow(int_type byte) override;
    int sync() override;

private:
    int descriptor_;
    std::array<char, std::size_t{64} << 10> bytes_{};
};

} // namespace winkhold::base
