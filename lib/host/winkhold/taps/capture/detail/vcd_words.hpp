/// The words of a VCD file: what white space separates.
#pragma once

#include "winkhold/base/wings.hpp"
#include "winkhold/taps/capture/detail/text_input.hpp"

#include <memory>
#include <string_view>

namespace winkhold::taps::capture {

class VcdWords {
public:
    explicit VcdWords(std::unique_ptr<TextInput> input);

    /// The next word; empty at the end of the input. It lasts until the next call. Throws Complaint at bytes
    /// that are no text.
    std::string_view next();

    /// The next word, which must be there: Complaint names `inside` as what the file ends in.
    std::string_view expect(std::string_view inside);

    /// Passes the words up to the next "$end".
    void skip_to_end(std::string_view inside);

    /// The line of the word returned last. At the end of the input, still that of the last word.
    const long long& line() const { return word_line_; }

    /// Moves on to the next word; false at the end of the input.
    bool find_word();

    /// The words at hand, for a reader that knows the form they nearly all have. It says with pass() where it
    /// came to, and how many lines it passed.
    const char* at() const { return at_; }
    const char* end() const { return input_->end(); }
    void pass(const char* to, long long lines) {
        at_ = to;
        line_ += lines;
    }

private:
    std::unique_ptr<TextInput> input_;
    const char* at_;
    long long line_{1};
    long long word_line_{1};
};

} // namespace winkhold::taps::capture
