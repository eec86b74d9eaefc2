#include "command_line.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/nearest.hpp"

#include "names_now.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace winkhold::app {
namespace {

/// Whole numbers may be written as 1e8, too.
template <class T>
std::optional<T> whole(const std::string& text) {
    const char* const end = text.data() + text.size();
    T value{};
    if (const auto [rest, error] = std::from_chars(text.data(), end, value);
        error == std::errc{} && rest == end)
        return value;
    double real = 0;
    const auto [rest, error] = std::from_chars(text.data(), end, real);
    constexpr double exact = 9'007'199'254'740'992; // up to here a double is every whole number
    const double most = std::min(exact, static_cast<double>(std::numeric_limits<T>::max()));
    if (error != std::errc{} || rest != end || !(real >= 0 && real <= most) || real != std::floor(real))
        return std::nullopt;
    return static_cast<T>(real);
}

std::optional<double> real(const std::string& text) {
    double value = 0;
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, value);
    return error == std::errc{} && rest == end && std::isfinite(value) ? std::optional(value) : std::nullopt;
}

/// Puts a value where the option says; what is wrong with it, if anything.
struct Put {
    const Option& option;
    const std::vector<std::string>& given;

    std::string operator()(bool* flag) const {
        *flag = true;
        return given.back() == "true" ? "" : option.name + ": takes no value";
    }
    std::string operator()(std::string* value) const { return put_text(*value); }
    std::string operator()(std::optional<std::string>* value) const { return put_text(value->emplace()); }
    std::string operator()(std::vector<std::string>* values) const {
        *values = given;
        return "";
    }
    template <class T>
    std::string operator()(const Number<T>& number) const {
        const std::optional<T> value = [this] {
            if constexpr (std::is_same_v<T, double>)
                return real(given.back());
            else
                return whole<T>(given.back());
        }();
        if (!value || *value < number.least || *value > number.most)
            return fmt::format("{} {}: write a {}number from {} to {}", option.name, given.back(),
                               std::is_same_v<T, double> ? "" : "whole ", number_text(number.least),
                               number_text(number.most));
        *number.value = *value;
        return "";
    }

private:
    std::string put_text(std::string& value) const {
        const std::string& text = given.back();
        if (text.empty()) return fmt::format("{}: its value is empty", option.name);
        const std::vector<std::string_view>& words = option.words;
        if (!words.empty() && std::find(words.begin(), words.end(), text) == words.end())
            return fmt::format("{} \"{}\": write {} or {}{}", option.name, text,
                               host::joined(std::span(words).first(words.size() - 1), ", "), words.back(),
                               host::did_you_mean(text, words));
        value = text;
        return "";
    }
};

/// Declares to the parser what the command declares; values come back as they were typed.
class Words {
public:
    explicit Words(const Command& command) {
        parser_.set_help_flag("-h,--help");
        parser_.allow_extras();
        for (const auto* declared : {&command.arguments, &command.options})
            for (const Option& option : *declared)
                add(option);
        for (const Option& option : command.options) {
            for (const std::string& other : option.excludes)
                parser_.get_option(option.name)->excludes(parser_.get_option(other));
            if (!option.needs.empty())
                parser_.get_option(option.name)->needs(parser_.get_option(option.needs));
        }
    }

    void parse(std::vector<std::string> words) {
        std::reverse(words.begin(), words.end()); // as the parser wants them
        parser_.parse(std::move(words));
    }
    std::vector<std::string> left_over() const {
        std::vector<std::string> words = parser_.remaining();
        std::erase(words, "--"); // what follows it is told by its place
        return words;
    }
    std::vector<std::string> given(const Option& option) const {
        return parser_.get_option(option.name)->results();
    }

private:
    void add(const Option& option) {
        if (option.is_flag()) {
            parser_.add_flag(option.name);
            return;
        }
        CLI::Option* const added = parser_.add_option(option.name);
        added->type_name(option.value)->required(option.required);
        if (option.takes_many()) added->expected(-1);
        added->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    }

    CLI::App parser_;
};

[[noreturn]] void refuse_unknown(const Command& command, const std::string& name) {
    std::vector<std::string_view> known{"--help"};
    for (const Option& option : command.options)
        known.push_back(option.name);
    throw UsageError(name + ": no such option" + host::did_you_mean(name, known), command.name);
}

/// "-hold" is a slip for "--hold"; the parser would take it for -h and more.
void refuse_single_dashes(const Command& command, const std::vector<std::string>& words) {
    for (const std::string& word : words)
        for (const Option& option : command.options)
            if (option.name == "-" + word) refuse_unknown(command, word);
}

[[noreturn]] void refuse_left_over(const Command& command, const std::vector<std::string>& words) {
    for (const std::string& word : words) {
        if (!word.starts_with('-')) continue;
        const std::string name = word.substr(0, word.find('='));
        refuse_old_name(name, old_options);
        refuse_unknown(command, name);
    }
    throw UsageError(words.front() + ": one argument too many", command.name);
}

} // namespace

bool read_words(const Command& command, const std::vector<std::string>& words) {
    refuse_single_dashes(command, words);
    Words parsed(command);
    try {
        parsed.parse(words);
    } catch (const CLI::CallForHelp&) {
        return false;
    } catch (const CLI::ArgumentMismatch& error) {
        const std::string what = error.what(); // "--hold: 1 required TIME missing"
        throw UsageError(what.substr(0, what.find(':')) + ": its value is missing", command.name);
    } catch (const CLI::ParseError& error) {
        throw UsageError(error.what(), command.name);
    }
    if (!parsed.left_over().empty()) refuse_left_over(command, parsed.left_over());
    for (const auto* declared : {&command.arguments, &command.options})
        for (const Option& option : *declared) {
            const std::vector<std::string> given = parsed.given(option);
            if (given.empty()) continue;
            if (given.size() > 1 && !option.takes_many() && !option.is_flag())
                throw UsageError(fmt::format("{}: given {} times", option.name, given.size()), command.name);
            if (const std::string wrong = std::visit(Put{option, given}, option.target); !wrong.empty())
                throw UsageError(wrong, command.name);
        }
    return true;
}

} // namespace winkhold::app
