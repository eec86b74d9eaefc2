/// What a command is, as data: what reads the command line, prints the help and whatever else has to know the
/// commands works from this one description.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace winkhold::app {

/// A number from `least` to `most`, both included.
template <class T>
struct Number {
    T* value;
    T least;
    T most;
};

/// Where a value goes. A bool is a flag and takes none; a vector takes one value or more.
using Target = std::variant<bool*, std::string*, std::optional<std::string>*, std::vector<std::string>*,
                            Number<int>, Number<std::int64_t>, Number<std::uint64_t>, Number<double>>;

/// What kind of file a value names, if it is to be read as one of these.
enum class Reads { nothing_special, recording, vehicle, either, folder };

/// An option ("--hold"), or an argument that is told by its place ("RECORDING").
struct Option {
    std::string name;
    std::string value{}; ///< what stands for the value in help, like TIME; empty for a flag
    std::string help;    ///< without the default
    Target target;
    std::string initial{};                 ///< the default for people; empty: there is none worth showing
    std::string section{};                 ///< heading in help; empty: the first one
    std::vector<std::string_view> words{}; ///< the only values, if not empty
    std::vector<std::string> excludes{};   ///< options that must not be given, too
    std::string needs{};                   ///< option that must be given, too
    Reads reads{Reads::nothing_special};
    bool changes{false}; ///< what it reads is changed, too
    bool required{false};

    bool is_flag() const { return std::holds_alternative<bool*>(target); }
    bool takes_many() const { return std::holds_alternative<std::vector<std::string>*>(target); }

    Option& shown_as_default(std::string_view text) {
        initial = text;
        return *this;
    }
    Option& only_with(std::string_view option) {
        needs = option;
        return *this;
    }
    Option& reading(Reads kind) {
        reads = kind;
        return *this;
    }
    Option& changing(Reads kind) {
        changes = true;
        return reading(kind);
    }
};

/// A number as somebody would write it: 20, 0.0001, 1e8.
std::string number_text(double value);
std::string number_text(int value);
std::string number_text(std::int64_t value);
std::string number_text(std::uint64_t value);

/// One thing the program does. Options and arguments are shown in the order in which they are declared; the
/// references that declaring one returns hold until the next one is declared.
struct Command {
    /// Headings of `winkhold --help`.
    enum class Group { bike, proof };

    std::string name; ///< one word, or two: "prove faults"
    Group group{Group::bike};
    std::string summary;       ///< one line
    std::string notes{};       ///< exit codes and what else doesn't belong to one option
    std::string example_for{}; ///< what the example is good for
    std::vector<std::string> example{};
    std::vector<Option> arguments{};
    std::vector<Option> options{};
    std::function<int()> run{}; ///< 0 fine, 1 findings; throws host::InputError for 2

    /// Texts show what they hold when they are declared as their default.
    Option& argument(std::string_view name, std::string& value, std::string_view help);
    /// An argument that may be left out, or be several.
    Option& arguments_of(std::string_view name, std::vector<std::string>& values, std::string_view help);
    Option& flag(std::string_view name, bool& value, std::string_view help);
    Option& text(std::string_view name, std::string_view placeholder, std::string& value,
                 std::string_view help);
    Option& text(std::string_view name, std::string_view placeholder, std::optional<std::string>& value,
                 std::string_view help);
    Option& texts(std::string_view name, std::string_view placeholder, std::vector<std::string>& values,
                  std::string_view help);
    Option& word(std::string_view name, std::vector<std::string_view> words, std::string& value,
                 std::string_view help);
    template <class T>
    Option& number(std::string_view name, T& value, T least, T most, std::string_view help) {
        return add(name, "N", help, Number<T>{&value, least, most}, number_text(value));
    }

    /// The option of that name; it must have been declared.
    Option& option(std::string_view name);

private:
    // out of line, and texts as views: dozens of options are declared in each command's file
    Option& add(std::string_view name, std::string_view value, std::string_view help, Target target,
                std::string_view initial = {});
};

/// A command whose values, declaration and work are `Of`: it has declare(Command&) and run().
template <class Of>
Command command_of() {
    const auto of = std::make_shared<Of>();
    Command command;
    of->declare(command);
    command.run = [of] { return of->run(); };
    return command;
}

} // namespace winkhold::app
