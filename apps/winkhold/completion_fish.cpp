#include "completion.hpp"
#include "completion_parts.hpp"

#include <fmt/format.h>

namespace winkhold::app {
namespace {

std::string in_quotes(std::string_view text) {
    std::string out;
    for (const char letter : text) {
        if (letter == '\\') out += '\\';
        out += letter == '\n' ? ' ' : letter;
    }
    return quoted(out, R"(\')");
}

/// fish expands what -a gives, so each word has quotes of its own within.
std::string words_in_quotes(const auto& words) {
    std::string out;
    for (const std::string_view word : words)
        out += fmt::format("{}{}", out.empty() ? "" : " ", in_quotes(word));
    return in_quotes(out);
}

std::string offered(const std::vector<Offer>& offers, std::string_view when) {
    std::string out;
    for (const Offer& offer : offers)
        out +=
            fmt::format("complete -c winkhold -f -n {} -a {} -d {}\n", in_quotes(when),
                        words_in_quotes(std::vector<std::string_view>{offer.text}), in_quotes(offer.meaning));
    return out;
}

std::string at(const Command& command) {
    return fmt::format("_winkhold_at {}", in_quotes(command.name));
}

std::string option_line(const Command& command, const Option& option) {
    std::string out = fmt::format("complete -c winkhold -n {} -l {} -d {}", in_quotes(at(command)),
                                  in_quotes(option.name.substr(2)), in_quotes(option.help));
    switch (value_of(option)) {
    case Value::none:
        break;
    case Value::words:
        out += " -x -a " + words_in_quotes(option.words);
        break;
    case Value::file:
        out += " -r -F";
        break;
    case Value::anything:
        out += " -x";
        break;
    }
    return out + "\n";
}

constexpr const char* head =
    R"(# Completes command lines of winkhold in fish. Printed by: winkhold --completion fish

# Whether the words before the cursor begin with this command, and nothing else where it is ''.
function _winkhold_at
    set -l typed (commandline -opc)
    set -e typed[1]
    set -l command (string split ' ' -- $argv[1])
    if test -z "$argv[1]"
        test (count $typed) -eq 0
    else if test (count $typed) -ge (count $command)
        test "$typed[1..$(count $command)]" = "$command"
    else
        false
    end
end

function _winkhold_after_prove
    test (count (commandline -opc)) -eq 2; and _winkhold_at prove
end

)";

} // namespace

std::string completion_for_fish(const std::vector<Command>& commands) {
    std::string out = head;
    out += offered(first_words(commands), "_winkhold_at ''");
    out += offered(words_after_prove(commands), "_winkhold_after_prove");
    out += fmt::format("complete -c winkhold -f -n {} -a {}\n",
                       in_quotes(fmt::format("_winkhold_at {}", asks_for_shell)), words_in_quotes(shells));
    for (const Command& command : commands) {
        if (command.arguments.empty())
            out += fmt::format("complete -c winkhold -f -n {}\n", in_quotes(at(command)));
        for (const Option& option : command.options)
            out += option_line(command, option);
        out +=
            fmt::format("complete -c winkhold -n {} -s h -l help -d 'print help'\n", in_quotes(at(command)));
    }
    return out;
}

} // namespace winkhold::app
