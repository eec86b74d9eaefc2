#include "winkhold/taps/capture/detail/vcd_signals.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

std::optional<int> parse_int(std::string_view text) {
    int number = 0;
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, number);
    if (error != std::errc{} || rest != end) return std::nullopt;
    return number;
}

// Takes "[...]" from the end of `name`, if it is there, and returns what is between the brackets.
std::string_view take_brackets(std::string_view& name) {
    const std::size_t open = name.rfind('[');
    if (open == name.npos || !name.ends_with(']')) return {};
    const std::string_view inside = name.substr(open + 1, name.size() - open - 2);
    name = name.substr(0, open);
    return inside;
}

bool is_called(std::string_view full_name, std::string_view name) {
    if (name.empty()) return false;
    if (!full_name.ends_with(name)) return false;
    return full_name.size() == name.size() || full_name[full_name.size() - name.size() - 1] == '.';
}

} // namespace

void VcdSignals::declare(std::string_view code, VcdSignal signal, std::string_view name) {
    memory_ += code.size() + name.size() + sizeof(Variable) + sizeof(VcdSignal);
    if (memory_ > most_memory) {
        throw Complaint{"more signals than can be kept (32 MiB of names); dump fewer of them"};
    }
    std::size_t index = index_of(code);
    if (index == undeclared) {
        index = signals_.size();
        signals_.push_back(signal);
        if (code.size() == 1)
            short_codes_[static_cast<unsigned char>(code[0])] = index;
        else
            long_codes_.emplace(code, index);
    }
    if (signals_[index] != signal) signals_[index].kind = VcdSignal::Kind::unclear;
    const auto range = take_range(name);
    variables_.push_back({std::string(name), range, index});
}

std::size_t VcdSignals::index_of(std::string_view code) const {
    if (code.size() == 1) return short_codes_[static_cast<unsigned char>(code[0])];
    const auto found = long_codes_.find(code);
    return found == long_codes_.end() ? undeclared : found->second;
}

std::optional<VcdSignals::Range> VcdSignals::take_range(std::string_view& name) {
    std::string_view rest = name;
    const std::string_view inside = take_brackets(rest);
    const std::size_t colon = inside.find(':');
    if (colon == inside.npos) return std::nullopt;
    const auto left = parse_int(inside.substr(0, colon));
    const auto right = parse_int(inside.substr(colon + 1));
    if (!left || !right) return std::nullopt;
    name = rest;
    return Range{*left, *right};
}

std::optional<Place> VcdSignals::find(std::string_view name) const {
    struct Match {
        Place place;
        std::string name;
        bool is_full_name;
    };
    std::vector<Match> matches;
    for (const Variable& variable : variables_) {
        const auto place = place_in(variable, name);
        if (place) matches.push_back({*place, variable.name, name.starts_with(variable.name)});
    }
    if (matches.empty()) {
        refuse_what_is_no_tap(name);
        return std::nullopt;
    }
    const auto first_full =
        std::find_if(matches.begin(), matches.end(), [](const Match& m) { return m.is_full_name; });
    const Match meant = first_full == matches.end() ? matches.front() : *first_full;
    std::erase_if(matches, [&](const Match& match) { return match.is_full_name != meant.is_full_name; });
    const auto is_meant = [&](const Match& match) { return match.place == meant.place; };
    if (std::all_of(matches.begin(), matches.end(), is_meant)) return meant.place;
    std::vector<std::string> candidates;
    for (const Match& match : matches)
        candidates.push_back(match.name);
    const auto is_first = [&](const std::string& other) { return other == candidates.front(); };
    if (std::all_of(candidates.begin(), candidates.end(), is_first))
        throw Complaint{fmt::format("{} signals are called {}; rename one of them", candidates.size(),
                                    shown(candidates.front()))};
    throw Complaint{
        fmt::format("{} may be any of: {}; give the name in full", shown(name), listed(candidates))};
}

void VcdSignals::refuse_what_is_no_tap(std::string_view name) const {
    for (const Variable& variable : variables_) {
        if (!is_called(variable.name, name)) continue;
        const VcdSignal& signal = signals_[variable.signal];
        if (signal.kind == VcdSignal::Kind::text)
            throw Complaint{fmt::format("{} is a text, and a tap is a bit or a voltage", shown(name))};
        if (signal.kind == VcdSignal::Kind::unclear)
            throw Complaint{fmt::format("the code of {} is declared twice, with different types; is the file "
                                        "damaged?",
                                        shown(name))};
        throw Complaint{fmt::format("{} has {} bits, {}; name one of them, as in {}[{}]", shown(name),
                                    signal.width, written(variable), name,
                                    variable.range ? variable.range->right : 0)};
    }
}

std::string VcdSignals::written(const Variable& variable) const {
    const VcdSignal& signal = signals_[variable.signal];
    if (!signal.is_vector()) return variable.name;
    const Range range = variable.range.value_or(Range{static_cast<int>(signal.width) - 1, 0});
    return fmt::format("{}[{}:{}]", variable.name, range.left, range.right);
}

std::optional<Place> VcdSignals::place_in(const Variable& variable, std::string_view name) const {
    const VcdSignal& signal = signals_[variable.signal];
    const bool is_bits = signal.kind == VcdSignal::Kind::bits;
    if (is_called(variable.name, name)) {
        const bool is_one = signal.kind == VcdSignal::Kind::real || (is_bits && signal.width == 1);
        return is_one ? std::optional(Place{variable.signal}) : std::nullopt;
    }
    const auto number = parse_int(take_brackets(name));
    if (!number || !is_bits || !is_called(variable.name, name)) return std::nullopt;
    const auto bit = bit_of(variable, *number);
    return bit ? std::optional(Place{variable.signal, *bit}) : std::nullopt;
}

// How far from the right end of the value the bit with this number is.
std::optional<unsigned> VcdSignals::bit_of(const Variable& variable, int number) const {
    const int width = static_cast<int>(signals_[variable.signal].width);
    const Range range = variable.range.value_or(Range{width - 1, 0});
    const long long bit = range.left >= range.right ? 0LL + number - range.right : 0LL + range.right - number;
    if (bit < 0 || bit >= width) return std::nullopt;
    return static_cast<unsigned>(bit);
}

std::vector<std::string> VcdSignals::names() const {
    std::vector<std::string> names;
    for (const Variable& variable : variables_) {
        const VcdSignal::Kind kind = signals_[variable.signal].kind;
        const bool can_be_tap = kind == VcdSignal::Kind::bits || kind == VcdSignal::Kind::real;
        if (can_be_tap && !variable.name.empty() && !variable.name.ends_with('.'))
            names.push_back(written(variable));
    }
    return names;
}

} // namespace winkhold::taps::capture
