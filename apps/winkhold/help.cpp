#include "help.hpp"

#include "describe.hpp"

#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

/// Stands for a space at which no line is broken.
constexpr char tie = '\x1f';

std::string paragraph(const std::string& text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        out += host::wrapped("", "", text.substr(at, end - at));
        at = end + 1;
    }
    return out;
}

/// A name and what it means, which begins at column `indent`; below the name if that is too long.
std::string entry(const std::string& name, const std::string& meaning, std::size_t indent) {
    const std::string lead(indent, ' ');
    std::string first = fmt::format("  {}", name);
    const bool fits = first.size() + 2 <= indent;
    first += fits ? std::string(indent - first.size(), ' ') : "\n";
    std::string out = fits ? host::wrapped(first, lead, meaning) : first + host::wrapped(lead, lead, meaning);
    std::replace(out.begin(), out.end(), tie, ' ');
    return out;
}

/// A default of a few words isn't torn apart.
std::string tied_meaning(const Option& option) {
    std::string meaning = meaning_of(option);
    const std::string text = default_of(option);
    if (text.empty() || text.size() >= 24) return meaning;
    const auto from = meaning.begin() + static_cast<std::ptrdiff_t>(meaning.rfind(text));
    std::replace(from, from + static_cast<std::ptrdiff_t>(text.size()), ' ', tie);
    return meaning;
}

std::string list(const std::vector<Option>& options, const std::string& section) {
    constexpr std::size_t indent = 24;
    std::string out;
    for (const Option& option : options)
        if (option.section == section) out += entry(label_of(option), tied_meaning(option), indent);
    return out;
}

} // namespace

std::string help_text(const Command& command) {
    std::string out = fmt::format("{}\nUsage: {}\n", paragraph(command.summary), usage_of(command));
    if (!command.arguments.empty()) out += fmt::format("\n{}", list(command.arguments, ""));
    for (const std::string& section : sections_of(command))
        out +=
            fmt::format("\n{}:\n{}{}", section.empty() ? "Options" : section, list(command.options, section),
                        section.empty() ? entry("-h, --help", "print this", 24) : "");
    if (!command.notes.empty()) out += fmt::format("\n{}", paragraph(command.notes));
    out += fmt::format("\nExample: {}\n", command.example_for);
    for (const std::string& line : command.example)
        for (const std::string& part : shell_lines(line, host::text_columns - 2))
            out += fmt::format("  {}\n", part);
    return out;
}

std::string help_text(const std::vector<Command>& commands, std::string_view word) {
    const std::string of = word.empty() ? "" : std::string(word) + " ";
    std::string out = word.empty() ? "Decode flashing turn-signal lines into one steady answer.\n"
                                   : "Prove what the decoder is worth, by trying it.\n";
    out += fmt::format("\nUsage: winkhold {0}COMMAND ...        winkhold {0}COMMAND --help\n", of);
    for (const auto& [group, heading] : {std::pair{Command::Group::bike, "Your bike"},
                                         std::pair{Command::Group::proof, "The decoder's proof"}}) {
        std::string listed;
        for (const Command& command : commands)
            if (command.group == group && command.name.starts_with(of))
                listed += entry(command.name, command.summary, 18);
        if (!listed.empty()) out += fmt::format("\n{}:\n{}", heading, listed);
    }
    if (word.empty())
        out +=
            "\nOptions:\n" + entry("-h, --help", "print this", 18) +
            entry("--version", "print the version", 18) +
            entry("--man, --completion bash|zsh|fish", "print the manual page, or a shell's completion", 18) +
            "\n" + std::string(host::caution);
    return out;
}

} // namespace winkhold::app
