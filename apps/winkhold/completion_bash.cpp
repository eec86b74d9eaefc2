#include "completion.hpp"
#include "completion_parts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace winkhold::app {
namespace {

/// Each in quotes, in lines that can be read.
std::string list(const std::vector<Offer>& offers) {
    std::string out;
    std::size_t column = 0;
    for (const Offer& offer : offers) {
        const std::string word = in_posix_quotes(offer.text);
        if (column + word.size() > 90) {
            out += " \\\n           ";
            column = 0;
        }
        out += " " + word;
        column += word.size() + 1;
    }
    return out;
}

/// One branch of `case "$command" in`.
std::string branch(const Command& command) {
    std::string out = fmt::format("    {})\n        case $previous in\n", in_posix_quotes(command.name));
    std::vector<std::string> files;
    std::vector<std::string> anything;
    for (const Option& option : command.options) {
        const Value value = value_of(option);
        if (value == Value::words)
            out += fmt::format("        {}) _winkhold_offer{}; return ;;\n", in_posix_quotes(option.name),
                               list(offers_of(option.words)));
        else if (value == Value::file)
            files.push_back(in_posix_quotes(option.name));
        else if (value == Value::anything)
            anything.push_back(in_posix_quotes(option.name));
    }
    if (!files.empty()) out += fmt::format("        {}) return ;;\n", fmt::join(files, "|"));
    if (!anything.empty())
        out += fmt::format("        {}) _winkhold_no_files; return ;;\n", fmt::join(anything, "|"));
    return out + fmt::format("        esac\n        [[ $current != -* ]] || _winkhold_offer{} ;;\n",
                             list(options_of(command)));
}

// Words are compared here and not by compgen -W, which would expand them. Where nothing is offered, bash
// itself completes file names. bash parts --option=value at the '='.
constexpr const char* head =
    R"(# Completes command lines of winkhold in bash. Printed by: winkhold --completion bash

_winkhold_no_files() {
    compopt +o default +o bashdefault 2> /dev/null
}

# Offers those of its arguments that begin with what is typed.
_winkhold_offer() {
    local word
    for word in "$@"; do
        [[ $word != "$current"* ]] || COMPREPLY+=("$word")
    done
    _winkhold_no_files
}

_winkhold() {
    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]}
    COMPREPLY=()
    if [[ $current == = ]]; then
        current=
    elif [[ $previous == = ]] && ((COMP_CWORD > 2)); then
        previous=${COMP_WORDS[COMP_CWORD - 2]}
    fi
)";

} // namespace

std::string completion_for_bash(const std::vector<Command>& commands) {
    std::string out = head;
    out +=
        fmt::format("    if ((COMP_CWORD == 1)); then\n        _winkhold_offer{}\n        return\n    fi\n",
                    list(first_words(commands)));
    out += fmt::format(R"(    if [[ $command == prove ]]; then
        if ((COMP_CWORD == 2)); then
            _winkhold_offer{}
            return
        fi
        command+=" ${{COMP_WORDS[2]}}"
    fi
    case $command in
)",
                       list(words_after_prove(commands)));
    out += fmt::format("    {}) _winkhold_offer{} ;;\n", asks_for_shell, list(offers_of(shells)));
    for (const Command& command : commands)
        out += branch(command);
    return out + "    esac\n}\n\ncomplete -o bashdefault -o default -F _winkhold winkhold\n";
}

} // namespace winkhold::app
