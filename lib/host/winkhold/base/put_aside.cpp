#include "winkhold/base/put_aside.hpp"

#include "winkhold/base/detail/descriptor_buffer.hpp"
#include "winkhold/base/error.hpp"

#include <cstdio>
#include <ostream>

namespace winkhold::base {

struct PutAside::Kept {
    std::unique_ptr<std::FILE, int (*)(std::FILE*)> file{std::tmpfile(), std::fclose};
    std::unique_ptr<DescriptorBuffer> buffer;
    std::unique_ptr<std::ostream> stream;
};

PutAside::PutAside() : kept_(new Kept) {
    if (kept_->file == nullptr)
        throw InputError("no temporary file can be made; is the disk full, or the folder for them missing?");
    kept_->buffer = std::make_unique<DescriptorBuffer>(fileno(kept_->file.get()));
    kept_->stream = std::make_unique<std::ostream>(kept_->buffer.get());
}

PutAside::~PutAside() = default;

std::ostream& PutAside::stream() {
    return *kept_->stream;
}

void PutAside::write_to(std::ostream& out) {
    kept_->stream->flush();
    if (!*kept_->stream) throw InputError("the folder for temporary files is full");
    std::rewind(kept_->file.get());
    char block[1 << 16];
    for (std::size_t count; (count = std::fread(block, 1, sizeof block, kept_->file.get())) > 0;)
        out.write(block, static_cast<std::streamsize>(count));
}

} // namespace winkhold::base
