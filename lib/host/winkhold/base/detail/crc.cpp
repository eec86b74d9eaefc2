#include "winkhold/base/detail/crc.hpp"

#include <boost/crc.hpp>

namespace winkhold::base {

std::uint32_t crc32(std::string_view bytes) {
    boost::crc_32_type crc;
    crc.process_bytes(bytes.data(), bytes.size());
    return crc.checksum();
}

} // namespace winkhold::base
