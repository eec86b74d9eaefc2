#include "winkhold/taps/capture/detail/vcd_definitions.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <charconv>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

// More than any definition has, so that a missing $end is found before the file is read through.
constexpr std::size_t most_words = 16;

constexpr unsigned widest = 1u << 20;

// Of the names of all open scopes together.
constexpr std::size_t longest_scopes = 4'096;

std::vector<std::string> words_to_end(VcdWords& words, const std::string& section) {
    std::vector<std::string> list;
    for (;;) {
        const std::string_view word = words.expect(section);
        if (word == "$end") return list;
        if (list.size() == most_words)
            throw Complaint{fmt::format("{} has no $end; is the file damaged?", section)};
        list.emplace_back(word);
    }
}

std::string joined(const std::vector<std::string>& words, std::size_t first) {
    std::string text;
    for (std::size_t i = first; i < words.size(); ++i)
        text += words[i];
    return text;
}

// Words with the blanks between them, but for those ahead of and inside a range.
std::string name_of(const std::vector<std::string>& words, std::size_t first) {
    std::string name;
    for (std::size_t i = first; i < words.size(); ++i) {
        const std::size_t open = name.rfind('[');
        const bool is_open = open != name.npos && name.find(']', open) == name.npos;
        const bool in_range = words[i].front() == '[' || is_open;
        if (!name.empty() && !in_range) name += ' ';
        name += words[i];
    }
    if (name.starts_with('\\')) name.erase(0, 1); // an escaped identifier
    return name;
}

VcdSignal parse_type(std::string_view type, std::string_view size) {
    if (type == "real" || type == "realtime" || type == "shortreal") return {.kind = VcdSignal::Kind::real};
    if (type == "string") return {.kind = VcdSignal::Kind::text};
    VcdSignal signal;
    const char* const end = size.data() + size.size();
    const auto [rest, error] = std::from_chars(size.data(), end, signal.width);
    if (error != std::errc{} || rest != end || signal.width > widest) {
        throw Complaint{fmt::format("{} is no size of a signal in bits", shown(size))};
    }
    return signal;
}

class DefinitionReader {
public:
    DefinitionReader(VcdWords& words, const std::optional<std::string>& time_unit) : words_(words) {
        if (time_unit) timescale_.emplace("1" + *time_unit);
        is_told_ = time_unit.has_value();
    }

    VcdDefinitions read() {
        while (read_definition())
            continue;
        if (!timescale_)
            throw Complaint{
                "no $timescale ahead of $enddefinitions; add one, such as $timescale 1 us $end, or "
                "say what its times count with --time-unit"};
        return {*timescale_, std::move(signals_)};
    }

private:
    bool read_definition() {
        const std::string keyword(words_.expect("the definitions, ahead of $enddefinitions"));
        if (keyword.front() != '$') {
            throw Complaint{fmt::format(
                "{} where a definition is expected; is a $enddefinitions or $end missing?", shown(keyword))};
        }
        if (keyword == "$timescale")
            read_timescale();
        else if (keyword == "$scope")
            read_scope();
        else if (keyword == "$upscope")
            leave_scope();
        else if (keyword == "$var")
            read_variable();
        else
            words_.skip_to_end(shown(keyword));
        return keyword != "$enddefinitions";
    }

    void read_timescale() {
        if (is_told_) return words_.skip_to_end("$timescale");
        if (timescale_) throw Complaint{"a second $timescale; which one is right?"};
        timescale_.emplace(joined(words_to_end(words_, "$timescale"), 0));
    }

    // Without a name it is passed over, as some generators write them.
    void read_scope() {
        const std::string name = name_of(words_to_end(words_, "$scope"), 1);
        if (scopes_.size() + name.size() >= longest_scopes || scope_ends_.size() >= longest_scopes)
            throw Complaint{"scopes within scopes without end; is a $upscope missing?"};
        scope_ends_.push_back(scopes_.size());
        if (!name.empty()) scopes_ += name + '.';
    }

    void leave_scope() {
        words_.skip_to_end("$upscope");
        if (scope_ends_.empty()) return;
        scopes_.resize(scope_ends_.back());
        scope_ends_.pop_back();
    }

    void read_variable() {
        const auto parts = words_to_end(words_, "$var");
        if (parts.size() < 3) throw Complaint{"a $var needs a type, a size, a code and a name"};
        signals_.declare(parts[2], parse_type(parts[0], parts[1]), scopes_ + name_of(parts, 3));
    }

    VcdWords& words_;
    std::optional<VcdTimescale> timescale_;
    bool is_told_{false}; // the time scale, by an option
    VcdSignals signals_;
    std::string scopes_;                  // those open, each with a '.' behind it
    std::vector<std::size_t> scope_ends_; // how long it was ahead of each
};

} // namespace

VcdDefinitions read_vcd_definitions(VcdWords& words, const std::optional<std::string>& time_unit) {
    return DefinitionReader(words, time_unit).read();
}

} // namespace winkhold::taps::capture
