#include "completion.hpp"
#include "completion_parts.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

/// "text:meaning" as _describe takes it apart.
std::string described(const Offer& offer) {
    const auto escaped = [](std::string_view text) {
        std::string out;
        for (const char letter : text) {
            if (letter == ':' || letter == '\\') out += '\\';
            out += letter == '\n' ? ' ' : letter;
        }
        return out;
    };
    if (offer.meaning.empty()) return in_posix_quotes(escaped(offer.text));
    return in_posix_quotes(fmt::format("{}:{}", escaped(offer.text), escaped(offer.meaning)));
}

std::string list(const std::vector<Offer>& offers, const char* lead) {
    std::string out;
    for (const Offer& offer : offers)
        out += fmt::format("\n{}{}", lead, described(offer));
    return out;
}

/// One branch of `case "$command" in`: sets what to offer, or completes files.
std::string branch(const Command& command) {
    std::string out =
        fmt::format("        ({})\n            case $previous in\n", in_posix_quotes(command.name));
    for (const Option& option : command.options) {
        const Value value = value_of(option);
        if (value == Value::none) continue;
        out += fmt::format("                ({})", in_posix_quotes(option.name));
        if (value == Value::words)
            out += fmt::format(" offers=({}\n                ) ;;\n",
                               list(offers_of(option.words), "                    "));
        else
            out += value == Value::file
                       ? " _files; return ;;\n"
                       : fmt::format(" _message {}; return ;;\n", in_posix_quotes(option.value));
    }
    out += fmt::format("                (*)\n                    if [[ $PREFIX != -* ]]; then {}; fi\n",
                       command.arguments.empty() ? "return 1" : "_files; return");
    return out +
           fmt::format("                    offers=({}\n                    ) ;;\n            esac ;;\n",
                       list(options_of(command), "                        "));
}

constexpr const char* head = R"(#compdef winkhold
# Completes command lines of winkhold in zsh. Printed by: winkhold --completion zsh

_winkhold() {
    local command=$words[2] previous=$words[CURRENT-1]
    local -a offers
    if [[ $PREFIX == --*=* ]]; then
        previous=${PREFIX%%=*}
        compset -P 1 '*='
    fi
)";

// Found by its name in a folder of functions, or read by `source <(winkhold --completion zsh)`.
constexpr const char* foot = R"(    _describe 'winkhold' offers
}

if [[ $funcstack[1] == _winkhold ]]; then
    _winkhold "$@"
else
    compdef _winkhold winkhold
fi
)";

} // namespace

std::string completion_for_zsh(const std::vector<Command>& commands) {
    std::string out = head;
    out += fmt::format("    local -a first=({}\n    )\n", list(first_words(commands), "        "));
    out +=
        fmt::format("    local -a after_prove=({}\n    )\n", list(words_after_prove(commands), "        "));
    out += R"(    if ((CURRENT == 2)); then
        _describe 'winkhold' first
        return
    elif [[ $command == prove ]] && ((CURRENT == 3)); then
        _describe 'winkhold prove' after_prove
        return
    fi
    [[ $command == prove ]] && command+=" $words[3]"
    case $command in
)";
    out += fmt::format("        ({}) offers=({}\n        ) ;;\n", asks_for_shell,
                       list(offers_of(shells), "            "));
    for (const Command& command : commands)
        out += branch(command);
    return out + "    esac\n" + foot;
}

} // namespace winkhold::app
