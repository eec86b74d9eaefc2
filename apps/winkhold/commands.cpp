#include "commands.hpp"

#include "command_line.hpp"
#include "names_now.hpp"

#include "winkhold/base/nearest.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::app {
namespace {

constexpr std::string_view prove = "prove ";

/// `word` stands for no command, after `before` ("" or "prove ").
[[noreturn]] void refuse(const std::vector<Command>& commands, std::string_view before,
                         const std::string& word) {
    std::vector<NameNow> names;
    for (const Command& command : commands)
        if (command.name.starts_with(before))
            names.push_back({std::string_view(command.name).substr(before.size()), command.name});
    if (before.empty()) {
        refuse_old_name(word, old_commands);
        for (const std::string_view name : {"prove", "--help", "--version", "--man", "--completion"})
            names.push_back({name, name});
        names.insert(names.end(), std::begin(old_commands), std::end(old_commands));
    }
    std::vector<std::string_view> words;
    for (const NameNow& name : names)
        words.push_back(name.old);
    std::string said =
        fmt::format("{}{}: no such {}", before, word, word.starts_with('-') ? "option" : "command");
    if (const auto meant = host::nearest(word, words))
        said += fmt::format("; did you mean '{}'?",
                            std::find_if(names.begin(), names.end(), [&](const NameNow& name) {
                                return name.old == *meant;
                            })->now);
    throw UsageError(said, before.empty() ? "" : "prove");
}

} // namespace

std::vector<Command> all_commands() {
    return {new_command(),           inspect_command(),     fit_command(),          decode_command(),
            sweep_command(),         simulate_command(),    sequence_command(),     limits_command(),
            electrics_command(),     wiring_command(),      checklist_command(),    pack_command(),
            live_command(),          verify_command(),      prove_faults_command(), prove_families_command(),
            prove_compare_command(), prove_worth_command(), prove_soak_command()};
}

Chosen choose_command(std::vector<Command> commands, const std::vector<std::string>& words) {
    if (words.empty()) throw UsageError("a subcommand is required", "");
    const bool proves = words[0] == "prove";
    if (proves && words.size() == 1)
        throw UsageError("prove what? faults, families, compare, worth or soak", "prove");
    const std::string name = proves ? "prove " + words[1] : words[0];
    const auto found = std::find_if(commands.begin(), commands.end(),
                                    [&](const Command& command) { return command.name == name; });
    if (found != commands.end()) return {std::move(*found), {words.begin() + (proves ? 2 : 1), words.end()}};

    refuse(commands, proves ? prove : "", words[proves ? 1 : 0]);
}

} // namespace winkhold::app
