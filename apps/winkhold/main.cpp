#include "command_line.hpp"
#include "commands.hpp"
#include "file_kind.hpp"
#include "help.hpp"
#include "output.hpp"

#include <cstdio>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

bool is_help(const std::string& word) {
    return word == "--help" || word == "-h";
}

/// What the program itself answers, not one of its commands; false if nothing of the kind is asked.
bool answered(const std::vector<Command>& commands, const std::vector<std::string>& words) {
    const std::string first = words.empty() ? "" : words[0];
    if (first == "--version")
        Output::print(WINKHOLD_VERSION "\n");
    else if (is_help(first))
        Output::print(help_text(commands, ""));
    else if (first == "prove" && words.size() > 1 && is_help(words[1]))
        Output::print(help_text(commands, first));
    else
        return false;
    return true;
}

int run(const Command& command, const std::vector<std::string>& words) {
    if (!read_words(command, words)) {
        Output::print(help_text(command));
        return 0;
    }
    try {
        return command.run();
    } catch (const host::InputError&) {
        if (const std::string told = tell_other_kind(command); !told.empty()) throw host::InputError(told);
        throw;
    }
}

int run(const std::vector<std::string>& words) {
    std::vector<Command> commands = all_commands();
    if (answered(commands, words)) return 0;
    const Chosen chosen = choose_command(std::move(commands), words);
    return run(chosen.command, chosen.words);
}

} // namespace
} // namespace winkhold::app

int main(int argc, char** argv) {
    constexpr int bad_usage_or_input = 2;
    try {
        return winkhold::app::run({argv + 1, argv + argc});
    } catch (const std::exception& error) {
        fmt::print(stderr, "winkhold: {}\n", error.what());
    }
    return bad_usage_or_input;
}
