/// `--json`, `--csv` and their like: in what form a command answers.
#pragma once

#include "command.hpp"

#include "winkhold/taps/decode/decode.hpp"

#include <array>
#include <functional>
#include <initializer_list>

namespace winkhold::app {

enum class Format { text, json, csv, markdown, tap };

/// An answer in each form that its command offers.
struct Forms {
    std::function<std::string()> text;
    std::function<std::string()> json{};
    std::function<std::string()> csv{};
    std::function<std::string()> markdown{};
    std::function<std::string()> tap{};
};

/// Text, unless one of the others is asked for.
class FormatChoice {
public:
    void add_to(Command& command, std::initializer_list<Format> beside_text);
    Format chosen() const;
    /// For answers that are written while a recording is read.
    host::Format streamed() const;
    /// To standard output.
    void print(const Forms& forms) const;
    /// On standard error, what the head of the other forms says and a table of figures has no place for.
    void tell_beside_csv(const std::string& notice) const;

private:
    std::array<bool, 5> asked_{};
};

} // namespace winkhold::app
