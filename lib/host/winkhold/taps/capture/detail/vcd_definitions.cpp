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

VcdSignal parse_type(std::string_view type, std::string_view size) {
    if (type == "real" || type == "realtime") return {.is_real = true};
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
    explicit DefinitionReader(VcdWords& words) : words_(words) {}

    VcdDefinitions read() {
        while (read_definition())
            continue;
        if (!timescale_)
            throw Complaint{"no $timescale ahead of $enddefinitions; add one, such as $timescale 1 us $end"};
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
        if (timescale_) throw Complaint{"a second $timescale; which one is right?"};
        timescale_.emplace(joined(words_to_end(words_, "$timescale"), 0));
    }

    void read_scope() {
        const auto parts = words_to_end(words_, "$scope");
        if (parts.size() != 2) throw Complaint{"a $scope needs a type and a name"};
        if (scopes_.size() + parts[1].size() >= longest_scopes)
            throw Complaint{"scopes within scopes without end; is a $upscope missing?"};
        scope_ends_.push_back(scopes_.size());
        scopes_ += parts[1] + '.';
    }

    void leave_scope() {
        words_.skip_to_end("$upscope");
        if (scope_ends_.empty()) throw Complaint{"a $upscope without a $scope"};
        scopes_.resize(scope_ends_.back());
        scope_ends_.pop_back();
    }

    void read_variable() {
        const auto parts = words_to_end(words_, "$var");
        if (parts.size() < 4) throw Complaint{"a $var needs a type, a size, a code and a name"};
        signals_.declare(parts[2], parse_type(parts[0], parts[1]), scopes_ + joined(parts, 3));
    }

    VcdWords& words_;
    std::optional<VcdTimescale> timescale_;
    VcdSignals signals_;
    std::string scopes_;                  // those open, each with a '.' behind it
    std::vector<std::size_t> scope_ends_; // how long it was ahead of each
};

} // namespace

VcdDefinitions read_vcd_definitions(VcdWords& words) {
    return DefinitionReader(words).read();
}

} // namespace winkhold::taps::capture
