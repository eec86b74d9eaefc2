#include "man_page.hpp"

#include "describe.hpp"

#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

/// When what is written here, or the commands, changed last: a page says how old it is.
constexpr const char* page_date = "2026-11-28";

/// Text as roff shows it, letter by letter. What has a meaning to roff, or would become a typographic sign
/// that no shell knows, is named.
std::string shown(std::string_view text) {
    std::string out;
    for (const char letter : text)
        switch (letter) {
        case '\\':
            out += "\\e";
            break;
        case '-':
            out += "\\-";
            break;
        case '"':
            out += "\\(dq";
            break;
        case '\'':
            out += "\\(aq";
            break;
        case '`':
            out += "\\(ga";
            break;
        case '^':
            out += "\\(ha";
            break;
        case '~':
            out += "\\(ti";
            break;
        default:
            out += letter;
        }
    return out;
}

/// A dot at the beginning of a line would be a command.
std::string line(const std::string& roff) {
    return (roff.starts_with('.') ? "\\&" : "") + roff + "\n";
}

/// Broken before it is written as roff, so that no break falls into one of roff's names.
std::string prose(std::string_view text) {
    constexpr std::size_t columns = 72;
    const std::string wrapped = host::wrapped("", "", text, columns);
    std::string out;
    for (std::size_t at = 0; at < wrapped.size();) {
        const std::size_t end = wrapped.find('\n', at);
        out += line(shown(wrapped.substr(at, end - at)));
        at = end + 1;
    }
    return out;
}

std::string paragraphs(const std::string& text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        out += ".PP\n" + prose(std::string_view(text).substr(at, end - at));
        at = end + 1;
    }
    return out;
}

std::string bold(std::string_view text) {
    return fmt::format("\\fB{}\\fR", shown(text));
}

std::string italic(std::string_view text) {
    return fmt::format("\\fI{}\\fR", shown(text));
}

std::string entry(const std::string& label, const std::string& meaning) {
    return ".TP\n" + line(label) + prose(meaning);
}

std::string label(const Option& option) {
    const std::string name = option.name.starts_with('-') ? bold(option.name) : italic(option.name);
    if (option.is_flag()) return name;
    return fmt::format("{}{}{}{}", name, option.value.empty() ? "" : " ",
                       option.words.empty() ? italic(option.value) : bold(option.value),
                       option.takes_many() ? " ..." : "");
}

std::string meaning(const Option& option) {
    std::string out = meaning_of(option);
    for (const std::string& other : option.excludes)
        out += fmt::format("{}{}", &other == &option.excludes.front() ? "; not with " : ", ", other);
    return out;
}

std::string section(const Command& command) {
    std::string out =
        fmt::format(".SS {}\n", shown("winkhold " + command.name)) + prose(command.summary + ".");
    out += ".PP\n" + line(bold(usage_of(command)));
    for (const Option& argument : command.arguments)
        out += entry(label(argument), meaning(argument));
    for (const std::string& heading : sections_of(command)) {
        if (!heading.empty()) out += ".PP\n" + line(shown(heading + ":"));
        for (const Option& option : command.options)
            if (option.section == heading) out += entry(label(option), meaning(option));
    }
    out += paragraphs(command.notes) + paragraphs(fmt::format("Example: {}", command.example_for));
    out += ".PP\n.RS 4\n.nf\n";
    constexpr std::size_t columns = host::text_columns - 11; // as far in as the macros set them
    for (const std::string& example : command.example)
        for (const std::string& part : shell_lines(example, columns))
            out += line(shown(part));
    return out + ".fi\n.RE\n";
}

} // namespace

std::string man_page(const std::vector<Command>& commands, const std::string& version) {
    std::string out = fmt::format(".TH WINKHOLD 1 {} \"winkhold {}\"\n", page_date, version);
    out += ".SH NAME\n" + line(shown("winkhold - decode flashing turn-signal lines into one steady answer"));
    out += ".SH SYNOPSIS\n";
    out += line(bold("winkhold") + " " + italic("COMMAND") + " [" + italic("OPTIONS") + "] ...");
    for (const char* const answers : {"--help", "--version", "--man", "--completion bash|zsh|fish"})
        out += ".br\n" + line(bold(fmt::format("winkhold {}", answers)));
    out +=
        ".SH DESCRIPTION\n" +
        prose("Turn-signal taps of a motorcycle flash. Winkhold decodes them into one steady answer: off, "
              "left, "
              "right or hazard. It tries a decoder on recordings and on synthetic rides, and judges what is "
              "built around it.") +
        paragraphs("TIME is a number with a unit, us, ms or s, like 5ms. A recording is CSV, VCD, WAV or a "
                   "recorder's log, told apart by what is in it; a vehicle file is TOML.\n"
                   "winkhold COMMAND --help prints what stands here of one command.");
    out += ".SH COMMANDS\n" + prose("First those for your bike, then those that prove the decoder.");
    for (const Command& command : commands)
        out += section(command);
    out += ".SH EXIT STATUS\n" + entry(bold("0"), "All is well.") +
           entry(bold("1"), "Something was found; each command says what.") +
           entry(bold("2"), "Bad usage or input. One message says what is wrong, where, and what to do.");
    out += ".SH ENVIRONMENT\n" + entry(bold("NO_COLOR"), "If it is set, lamps are drawn without colour.");
    out += ".SH CAUTION\n" + prose(host::caution_line());
    return out;
}

} // namespace winkhold::app
