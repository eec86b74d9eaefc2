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

Option& Command::add(std::string_view name, std::string_view value, std::string_view help, Target target,
                     std::string_view initial) {
    return options.emplace_back(Option{.name = std::string(name),
                                       .value = std::string(value),
                                       .help = std::string(help),
                                       .target = target,
                                       .initial = std::string(initial)});
}

Option& Command::argument(std::string_view name, std::string& value, std::string_view help) {
    return arguments.emplace_back(
        Option{.name = std::string(name), .help = std::string(help), .target = &value, .required = true});
}

Option& Command::arguments_of(std::string_view name, std::vector<std::string>& values,
                              std::string_view help) {
    return arguments.emplace_back(
        Option{.name = std::string(name), .help = std::string(help), .target = &values});
}

Option& Command::flag(std::string_view name, bool& value, std::string_view help) {
    return add(name, "", help, &value);
}

Option& Command::text(std::string_view name, std::string_view placeholder, std::string& value,
                      std::string_view help) {
    return add(name, placeholder, help, &value, value);
}

Option& Command::text(std::string_view name, std::string_view placeholder, std::optional<std::string>& value,
                      std::string_view help) {
    return add(name, placeholder, help, &value, value.value_or(""));
}

Option& Command::texts(std::string_view name, std::string_view placeholder, std::vector<std::string>& values,
                       std::string_view help) {
    return add(name, placeholder, help, &values);
}

Option& Command::word(std::string_view name, std::vector<std::string_view> words, std::string& value,
                      std::string_view help) {
    Option& option = add(name, host::joined(words, "|"), help, &value, value);
    option.words = std::move(words);
    return option;
}

Option& Command::option(std::string_view name) {
    return *std::find_if(options.begin(), options.end(),
                         [name](const Option& option) { return option.name == name; });
}

} // namespace winkhold::app
