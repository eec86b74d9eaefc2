#include "describe.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::app {

std::string usage_of(const Command& command) {
    std::string out = fmt::format("winkhold {}{}", command.name, command.options.empty() ? "" : " [OPTIONS]");
    for (const Option& argument : command.arguments)
        out +=
            argument.required ? fmt::format(" {}", argument.name) : fmt::format(" [{} ...]", argument.name);
    return out;
}

std::vector<std::string> sections_of(const Command& command) {
    std::vector<std::string> sections{""};
    for (const Option& option : command.options)
        if (std::find(sections.begin(), sections.end(), option.section) == sections.end())
            sections.push_back(option.section);
    return sections;
}

std::string label_of(const Option& option) {
    return fmt::format("{}{}{}{}", option.name, option.value.empty() ? "" : " ", option.value,
                       option.takes_many() ? " ..." : "");
}

std::string default_of(const Option& option) {
    return option.initial.empty() ? "" : fmt::format("(default: {})", option.initial);
}

std::string meaning_of(const Option& option) {
    return fmt::format("{}{}{}{}{}", option.help, option.initial.empty() ? "" : " ", default_of(option),
                       option.needs.empty() ? "" : "; only with ", option.needs);
}

std::vector<std::string> shell_lines(const std::string& line, std::size_t columns) {
    const std::size_t room = columns - 2; // for " \\"
    std::vector<std::string> lines{""};
    for (std::size_t at = 0; at < line.size();) {
        const std::size_t end = std::min(line.find(" --", at + 1), line.size());
        if (at > 0 && lines.back().size() + (end - at) > room) {
            lines.back() += " \\";
            lines.emplace_back("   "); // and the option's own space
        }
        lines.back() += line.substr(at, end - at);
        at = end;
    }
    return lines;
}

} // namespace winkhold::app
