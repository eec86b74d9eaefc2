#include "command.hpp"

#include "winkhold/base/joined.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::app {

std::string number_text(double value) {
    return fmt::format("{}", value);
}

std::string number_text(std::uint64_t value) {
    int zeros = 0;
    std::uint64_t rest = value;
    for (; rest >= 10 && rest % 10 == 0; rest /= 10)
        ++zeros;
    return rest == 1 && zeros >= 6 ? fmt::format("1e{}", zeros) : fmt::format("{}", value);
}

std::string number_text(std::int64_t value) {
    return value < 0 ? fmt::format("{}", value) : number_text(static_cast<std::uint64_t>(value));
}

std::string number_text(int value) {
    return fmt::format("{}", value);
}

Option& Command::add(Option option) {
    return options.emplace_back(std::move(option));
}

Option& Command::argument(std::string name, std::string& value, std::string help) {
    return arguments.emplace_back(
        Option{.name = std::move(name), .help = std::move(help), .target = &value, .required = true});
}

Option& Command::arguments_of(std::string name, std::vector<std::string>& values, std::string help) {
    return arguments.emplace_back(
        Option{.name = std::move(name), .help = std::move(help), .target = &values});
}

Option& Command::flag(std::string name, bool& value, std::string help) {
    return add({.name = std::move(name), .help = std::move(help), .target = &value});
}

Option& Command::text(std::string name, std::string placeholder, std::string& value, std::string help) {
    return add({.name = std::move(name),
                .value = std::move(placeholder),
                .help = std::move(help),
                .target = &value,
                .initial = value});
}

Option& Command::text(std::string name, std::string placeholder, std::optional<std::string>& value,
                      std::string help) {
    return add({.name = std::move(name),
                .value = std::move(placeholder),
                .help = std::move(help),
                .target = &value,
                .initial = value.value_or("")});
}

Option& Command::texts(std::string name, std::string placeholder, std::vector<std::string>& values,
                       std::string help) {
    return add({.name = std::move(name),
                .value = std::move(placeholder),
                .help = std::move(help),
                .target = &values});
}

Option& Command::word(std::string name, std::vector<std::string_view> words, std::string& value,
                      std::string help) {
    return add({.name = std::move(name),
                .value = host::joined(words, "|"),
                .help = std::move(help),
                .target = &value,
                .initial = value,
                .words = std::move(words)});
}

Option& Command::option(std::string_view name) {
    return *std::find_if(options.begin(), options.end(),
                         [name](const Option& option) { return option.name == name; });
}

} // namespace winkhold::app
