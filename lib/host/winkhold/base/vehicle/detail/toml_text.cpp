#include "winkhold/base/vehicle/detail/toml_text.hpp"

#include "winkhold/base/detail/small_file.hpp"

#include <algorithm>
#include <cctype>
#include <fmt/format.h>
#include <regex>

namespace winkhold::base {
namespace {

// Far more than a scenario needs. A file may name another one, so what is named may be anything.
constexpr std::size_t most_bytes = std::size_t{1} << 20;

/// A parser that calls itself for each level needs stack for each; no file of ours has more than four.
constexpr int most_levels = 32;

/// Walks over the text, past strings and comments, and counts how deep brackets and dotted names go.
class Depth {
public:
    /// The line that goes deeper than `most_levels`, or 0.
    long long too_deep_line(std::string_view text) {
        for (std::size_t at = 0; at < text.size();) {
            at += step(text.substr(at));
            if (brackets_ > most_levels || dots_ > most_levels) return line_;
        }
        return 0;
    }

private:
    std::size_t step(std::string_view text) {
        const char c = text[0];
        if (c == '\n') ++line_;
        if (c == '#') return std::min(text.find('\n'), text.size());
        if (c == '"' || c == '\'') return string(text);
        if (c == '[' || c == '{') ++brackets_;
        if (c == ']' || c == '}') --brackets_;
        if (c == '.')
            ++dots_;
        else if (std::isalnum(static_cast<unsigned char>(c)) == 0 && c != '_' && c != '-' && c != ' ' &&
                 c != '\t')
            dots_ = 0;
        return 1;
    }

    std::size_t string(std::string_view text) {
        const std::string_view one = text.substr(0, 1);
        const bool is_long = text.size() >= 3 && text[1] == text[0] && text[2] == text[0];
        const std::size_t quotes = is_long ? 3 : 1;
        std::size_t at = quotes;
        for (; at < text.size(); ++at) {
            if (text[at] == '\n') {
                if (!is_long) return at; // never ended: the parser says so
                ++line_;
            }
            if (text[at] == '\\' && one == "\"") {
                ++at;
                continue;
            }
            if (text.compare(at, quotes, std::string(quotes, text[0])) == 0) return at + quotes;
        }
        return text.size();
    }

    long long line_{1};
    int brackets_{0};
    int dots_{0};
};

std::string line_of(std::string_view text, long long line) {
    for (; line > 1 && !text.empty(); --line)
        text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
    return std::string(text.substr(0, std::min<std::size_t>({text.find('\n'), text.size(), 200})));
}

/// What somebody most likely meant, to end the message with; empty if there is nothing to guess.
std::string meant_by(const std::string& line) {
    std::smatch found;
    if (std::regex_match(line, found, std::regex(R"(\s*([\w.-]+)\s*=\s*(-?\d+),(\d+)\s*(#.*)?\r?)")))
        return fmt::format("; write {} = {}.{}, with a point", found.str(1), found.str(2), found.str(3));
    if (std::regex_match(line, found,
                         std::regex(R"(\s*([\w.-]+)\s*=\s*(-?\d+(\.\d+)?)\s*([A-Za-z%]+)\s*(#.*)?\r?)")))
        return fmt::format(
            "; write {0} = \"{1}{2}\" if it is a time, or {0} = {1} if its unit goes without saying",
            found.str(1), found.str(2), found.str(4));
    if (std::regex_match(line, found, std::regex(R"(\s*([\w.-]+)\s*=\s*([A-Za-z][^"'#=]*?)\s*(#.*)?\r?)")))
        return fmt::format("; text stands in quotes: {} = \"{}\", a number is written in digits",
                           found.str(1), found.str(2));
    if (std::regex_match(line, found, std::regex(R"(\s*([\w.-]+)\s*:\s*(.*?)\s*\r?)")))
        return fmt::format("; between name and value stands =: {} = ...", found.str(1));
    return {};
}

} // namespace

std::string read_toml_text(const std::string& path) {
    return read_small_file(path, most_bytes, "a scenario, vehicle or settings file (.toml)");
}

toml::table parse_toml(const std::string& path) {
    return parse_toml_text(read_toml_text(path), path);
}

toml::table parse_toml_text(std::string_view text, const std::string& path) {
    if (const long long line = Depth().too_deep_line(text); line != 0)
        throw InputError(
            at_line(path, line,
                    fmt::format("names or brackets go deeper than {} levels; is this the file you "
                                "mean?",
                                most_levels)));
    try {
        return toml::parse(text, path);
    } catch (const toml::parse_error& e) {
        const auto line = static_cast<long long>(e.source().begin.line);
        throw InputError(at_line(
            path, line, fmt::format("not valid TOML: {}{}", e.description(), meant_by(line_of(text, line)))));
    }
}

} // namespace winkhold::base
