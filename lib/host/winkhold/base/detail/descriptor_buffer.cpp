#include "winkhold/base/detail/descriptor_buffer.hpp"

#include <cerrno>
#include <unistd.h>

namespace winkhold::base {

DescriptorBuffer::DescriptorBuffer(int descriptor) : descriptor_(descriptor) {
    setp(bytes_.data(), bytes_.data() + bytes_.size());
}

DescriptorBuffer::int_type DescriptorBuffer::overflow(int_type byte) {
    if (sync() != 0) return traits_type::eof();
    if (traits_type::eq_int_type(byte, traits_type::eof())) return 0;
    *pptr() = traits_type::to_char_type(byte);
    pbump(1);
    return byte;
}

int DescriptorBuffer::sync() {
    for (const char* at = pbase(); at < pptr();) {
        const ssize_t wrote = ::write(descriptor_, at, static_cast<std::size_t>(pptr() - at));
        if (wrote < 0 && errno == EINTR) continue;
        if (wrote <= 0) return -1;
        at += wrote;
    }
    setp(bytes_.data(), bytes_.data() + bytes_.size());
    return 0;
}

} // namespace winkhold::base
