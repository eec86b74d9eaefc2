#include "winkhold/taps/capture/detail/vcd_words.hpp"

#include "winkhold/taps/capture/detail/bytes.hpp"
#include "winkhold/taps/capture/detail/complaint.hpp"

#include <fmt/format.h>

namespace winkhold::taps::capture {

VcdWords::VcdWords(std::unique_ptr<TextInput> input) : input_(std::move(input)), at_(input_->begin()) {}

bool VcdWords::find_word() {
    for (;;) {
        for (; at_ != input_->end() && is_space(*at_); ++at_)
            line_ += *at_ == '\n' ? 1 : 0;
        if (at_ != input_->end()) return true;
        const bool more = input_->refill(at_);
        at_ = input_->begin();
        if (!more) return false;
    }
}

std::string_view VcdWords::next() {
    if (!find_word()) return {};
    word_line_ = line_;
    const char* const begin = at_;
    while (is_text(*at_) && !is_space(*at_))
        ++at_;
    if (!is_space(*at_)) throw Complaint{"bytes that are no text; is the recording damaged or cut off here?"};
    return {begin, static_cast<std::size_t>(at_ - begin)};
}

std::string_view VcdWords::expect(std::string_view inside) {
    const std::string_view word = next();
    if (word.empty()) {
        throw Complaint{fmt::format(
            "the file ends inside {}; is the recording cut off? Record or copy it again", inside)};
    }
    return word;
}

void VcdWords::skip_to_end(std::string_view inside) {
    while (expect(inside) != "$end")
        continue;
}

} // namespace winkhold::taps::capture
