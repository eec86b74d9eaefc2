#include "command_line.hpp"
#include "commands.hpp"
#include "completion.hpp"
#include "data_folder.hpp"
#include "file_kind.hpp"
#include "help.hpp"
#include "man_page.hpp"
#include "output.hpp"

#include "winkhold/base/nearest.hpp"

#include <algorithm>
#include <cstdio>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

bool is_help(const std::string& word) {
    return word == "--help" || word == "-h";
}

/// The one that `--completion` names.
std::string shell_of(const std::vector<std::string>& words) {
    if (words.size() < 2) throw UsageError("--completion: its value is missing", "");
    if (std::find(shells.begin(), shells.end(), words[1]) == shells.end())
        throw UsageError(fmt::format("--completion \"{}\": write {}, {} or {}{}", words[1], shells[0],
                                     shells[1], shells[2],
                                     host::did_you_mean(words[1], {shells.begin(), shells.end()})),
                         "");
    return words[1];
}

/// What the program itself answers, not one of its commands; false if nothing of the kind is asked.
bool answered(const std::vector<Command>& commands, const std::vector<std::string>& words) {
    const std::string first = words.empty() ? "" : words[0];
    if (first == "--version")
        Output::print(WINKHOLD_VERSION "\n");
    else if (is_help(first))
        Output::print(help_text(commands, ""));
    else if (first == "--man")
        Output::print(man_page(commands, WINKHOLD_VERSION));
    else if (first == "--completion")
        Output::print(completion(commands, shell_of(words)));
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
    find_data(command);
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
