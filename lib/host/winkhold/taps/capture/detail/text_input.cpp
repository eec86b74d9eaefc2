#include "winkhold/taps/capture/detail/text_input.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <cstring>
#include <string_view>

namespace winkhold::taps::capture {
namespace {

// Small enough that a block is still in the processor's cache when it is parsed.
constexpr std::size_t chunk = std::size_t{128} << 10;

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

// A newline may have to be added.
std::unique_ptr<char[]> buffer_for(std::size_t room) {
    return std::make_unique_for_overwrite<char[]>(room + 1 + TextInput::overscan);
}

} // namespace

TextInput::TextInput(std::unique_ptr<InputFile> file)
    : file_(std::move(file)), room_(2 * chunk), buffer_(buffer_for(room_)), begin_(buffer_.get()),
      end_(begin_), filled_(buffer_.get()) {
    refill(begin_);
    const std::string_view text(begin_, static_cast<std::size_t>(end_ - begin_));
    if (text.substr(0, byte_order_mark.size()) == byte_order_mark) begin_ += byte_order_mark.size();
}

bool TextInput::refill(const char* keep) {
    const auto kept = static_cast<std::size_t>(filled_ - keep);
    std::memmove(buffer_.get(), keep, kept);
    end_ -= keep - buffer_.get();
    begin_ = buffer_.get();
    filled_ = buffer_.get() + kept;
    for (;;) {
        if (filled_ - begin_ > static_cast<std::ptrdiff_t>(longest_line)) {
            throw Complaint{"a line longer than 1 MiB; is this a recording, or is a quote left open?"};
        }
        make_room();
        const std::size_t count = file_->read(filled_, chunk);
        if (count == 0) {
            if (filled_ == end_) return false;
            *filled_++ = '\n';
            end_ = filled_;
            return true;
        }
        const std::size_t last_newline = std::string_view(filled_, count).rfind('\n');
        filled_ += count;
        if (last_newline == std::string_view::npos) continue;
        end_ = filled_ - count + last_newline + 1;
        return true;
    }
}

// For another chunk. What is in the buffer starts at its front.
void TextInput::make_room() {
    const auto filled = static_cast<std::size_t>(filled_ - buffer_.get());
    if (room_ - filled >= chunk) return;
    const auto end = end_ - begin_;
    room_ *= 2;
    auto larger = buffer_for(room_);
    std::memcpy(larger.get(), buffer_.get(), filled);
    buffer_ = std::move(larger);
    begin_ = buffer_.get();
    end_ = begin_ + end;
    filled_ = buffer_.get() + filled;
}

} // namespace winkhold::taps::capture
