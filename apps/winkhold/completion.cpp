#include "completion.hpp"

#include "completion_parts.hpp"

namespace winkhold::app {
namespace {
constexpr std::string_view prove = "prove ";
}

std::vector<Offer> first_words(const std::vector<Command>& commands) {
    std::vector<Offer> offers;
    for (const Command& command : commands)
        if (!command.name.starts_with(prove)) offers.push_back({command.name, command.summary});
    offers.push_back({"prove", "Prove what the decoder is worth, by trying it"});
    offers.push_back({"--help", "print help"});
    offers.push_back({"--version", "print the version"});
    offers.push_back({"--man", "print the manual page"});
    offers.push_back({std::string(asks_for_shell), "print the completion of a shell"});
    return offers;
}

std::vector<Offer> words_after_prove(const std::vector<Command>& commands) {
    std::vector<Offer> offers;
    for (const Command& command : commands)
        if (command.name.starts_with(prove))
            offers.push_back({command.name.substr(prove.size()), command.summary});
    offers.push_back({"--help", "print help"});
    return offers;
}

std::vector<Offer> options_of(const Command& command) {
    std::vector<Offer> offers;
    for (const Option& option : command.options)
        offers.push_back({option.name, option.help});
    offers.push_back({"--help", "print help"});
    return offers;
}

Value value_of(const Option& option) {
    if (option.is_flag()) return Value::none;
    if (!option.words.empty()) return Value::words;
    return option.value == "FILE" || option.value == "FOLDER" ? Value::file : Value::anything;
}

std::vector<Offer> offers_of(std::span<const std::string_view> words) {
    std::vector<Offer> offers;
    for (const std::string_view word : words)
        offers.push_back({std::string(word), ""});
    return offers;
}

std::string quoted(std::string_view text, std::string_view instead) {
    std::string out = "'";
    for (const char letter : text)
        letter == '\'' ? out += instead : out += letter;
    return out + "'";
}

std::string in_posix_quotes(std::string_view text) {
    return quoted(text, R"('\'')");
}

std::string completion(const std::vector<Command>& commands, std::string_view shell) {
    return shell == "bash"  ? completion_for_bash(commands)
           : shell == "zsh" ? completion_for_zsh(commands)
                            : completion_for_fish(commands);
}

} // namespace winkhold::app
