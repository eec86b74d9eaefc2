/// What the scripts of all shells offer.
#pragma once

#include "command.hpp"

#include <span>

namespace winkhold::app {

/// Something to type, and what it means.
struct Offer {
    std::string text;
    std::string meaning;
};

/// First words: commands, "prove" once for all of its own, and what the program itself answers.
std::vector<Offer> first_words(const std::vector<Command>& commands);

/// Second words after "prove".
std::vector<Offer> words_after_prove(const std::vector<Command>& commands);

/// All options of a command, --help too.
std::vector<Offer> options_of(const Command& command);

/// What follows an option; `anything` is nothing that a shell could know.
enum class Value { none, words, file, anything };
Value value_of(const Option& option);

/// Asks the program itself for one of these scripts; the shell's name follows.
inline constexpr std::string_view asks_for_shell = "--completion";

std::string completion_for_bash(const std::vector<Command>& commands);
std::string completion_for_zsh(const std::vector<Command>& commands);
std::string completion_for_fish(const std::vector<Command>& commands);

/// Words as offers without a meaning.
std::vector<Offer> offers_of(std::span<const std::string_view> words);

/// `text` with each quote in it replaced by `instead`, and quotes around it.
std::string quoted(std::string_view text, std::string_view instead);

/// As bash and zsh take a text letter by letter.
std::string in_posix_quotes(std::string_view text);

} // namespace winkhold::app
