/// A checksum of bytes, as zip and gzip have it.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <string_view>

namespace winkhold::base {

/// CRC-32 (ISO 3309; check value of "123456789": 0xcbf43926).
std::uint32_t crc32(std::string_view bytes);

} // namespace winkhold::base
