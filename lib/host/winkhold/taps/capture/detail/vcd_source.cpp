#include "winkhold/taps/capture/detail/vcd_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/decimal.hpp"

#include <charconv>
#include <fmt/format.h>
#include <limits>

namespace winkhold::taps::capture {

VcdSource::VcdSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options)
    : file_(std::move(file)), words_(std::move(input)), rules_(options) {
    located(file_, words_.line(), [&] { read_definitions(options); });
}

void VcdSource::read_definitions(const RecordingOptions& options) {
    definitions_ = read_vcd_definitions(words_);
    const VcdSignals& signals = definitions_->signals;
    taps_ = place_taps(
        options, {"signal", signals.names(), [&](std::string_view name) { return signals.find(name); }});
    plain_changes_.emplace(*definitions_, taps_, rules_);
}

bool VcdSource::find_edges() {
    found_ = delivered_ = 0;
    return located(file_, words_.line(), [this] {
        while (found_ == 0 && words_.find_word())
            read_words();
        if (found_ == 0) finish();
        return found_ > 0;
    });
}

// Reads the plain changes at hand, and the word of any other form behind them.
void VcdSource::read_words() {
    if (has_edge_) {
        const auto progress = plain_changes_->read(words_.at(), words_.end(), moment_, edges_);
        words_.pass(progress.at, progress.lines);
        found_ = progress.edges;
        if (found_ > 0 || !words_.find_word()) return;
    }
    const std::string_view word = words_.next();
    if (word.front() == '#')
        start_moment(word);
    else if (word.front() == '$')
        read_command(word);
    else
        read_change(word);
}

void VcdSource::finish() {
    if (!section_.empty()) words_.expect(section_);
    if (!has_time_) throw Complaint{"no time stamp (such as #0) in the file; was anything recorded?"};
    end_moment();
}

void VcdSource::end_moment() {
    if (!has_time_ || (has_edge_ && moment_.reported == moment_.lines)) return;
    edges_[found_++] = {moment_.t_us, moment_.lines};
    moment_.reported = moment_.lines;
    has_edge_ = true;
}

void VcdSource::start_moment(std::string_view word) {
    std::uint64_t ticks = 0;
    const char* const end = word.data() + word.size();
    const auto [rest, error] = std::from_chars(word.data() + 1, end, ticks);
    if (error == std::errc::result_out_of_range)
        ticks = std::numeric_limits<std::uint64_t>::max();
    else if (word.starts_with("#-")) {
        throw Complaint{fmt::format("{} is a negative time; let the recording start at 0", shown(word))};
    } else if (error != std::errc{} || rest != end) {
        throw Complaint{
            fmt::format("{} is no time, which is # and digits; is the recording cut off?", shown(word))};
    }
    if (ticks < moment_.ticks) {
        throw Complaint{fmt::format("time goes back from #{} to {}; was the file put together from several?",
                                    moment_.ticks, shown(word))};
    }
    const TimeUs t_us = definitions_->timescale.to_us(ticks);
    if (t_us > latest_us) {
        throw Complaint{fmt::format(
            "{} is beyond the ten years a recording may last; is the timescale right?", shown(word))};
    }
    end_moment();
    moment_.ticks = ticks;
    moment_.t_us = t_us;
    has_time_ = true;
}

void VcdSource::read_command(std::string_view word) {
    if (word == "$end") return section_.clear();
    if (word == "$comment") return words_.skip_to_end("$comment");
    if (word != "$dumpvars" && word != "$dumpall" && word != "$dumpon" && word != "$dumpoff") {
        throw Complaint{
            fmt::format("{} has no place behind $enddefinitions; is the file damaged?", shown(word))};
    }
    section_ = word;
}

void VcdSource::read_change(std::string_view word) {
    switch (word.front()) {
    case '0':
    case '1':
    case 'x':
    case 'X':
    case 'z':
    case 'Z':
        return change_bits(signal_of(word.substr(1)), word.substr(0, 1));
    case 'b':
    case 'B':
        value_ = word.substr(1);
        return change_bits(signal_of(words_.expect("a value")), value_);
    case 'r':
    case 'R':
        value_ = word.substr(1);
        return change_real(signal_of(words_.expect("a value")), value_);
    default:
        throw Complaint{fmt::format("{} is no value change; is the file damaged?", shown(word))};
    }
}

std::size_t VcdSource::signal_of(std::string_view code) const {
    if (code.empty()) throw Complaint{"a value without the code of its signal; is the recording cut off?"};
    const std::size_t signal = definitions_->signals.index_of(code);
    if (signal == VcdSignals::undeclared) {
        throw Complaint{
            fmt::format("a value for code {}, which no $var declares; is the file damaged?", shown(code))};
    }
    return signal;
}

void VcdSource::change_bits(std::size_t signal, std::string_view bits) {
    const VcdSignal& declared = definitions_->signals[signal];
    const bool is_value = !bits.empty() && bits.find_first_not_of("01xXzZ") == bits.npos;
    if (!is_value || declared.is_real || bits.size() > declared.width) {
        throw Complaint{
            fmt::format("{} is no value for a {}", shown(bits),
                        declared.is_real ? "real signal" : fmt::format("signal of {} bits", declared.width))};
    }
    for (const PlacedTap& placed : taps_) {
        if (placed.place.index != signal) continue;
        // Short values go on to the left with 0, or with the x or z they start with.
        const char extension = bits.front() == '1' ? '0' : bits.front();
        const bool is_written = placed.place.bit < bits.size();
        const char bit = is_written ? bits[bits.size() - 1 - placed.place.bit] : extension;
        if (bit == '0' || bit == '1')
            moment_.lines = rules_.with_level(moment_.lines, placed.tap, bit == '1');
        else if (unknown_count_++ == 0)
            first_unknown_us_ = moment_.t_us;
    }
}

std::vector<Caveat> VcdSource::caveats() const {
    if (unknown_count_ == 0) return {};
    return {{"level-not-known", unknown_count_, first_unknown_us_,
             "a tap is x or z, not known or not driven; until it is 0 or 1 again it is taken to stay as it "
             "was (dark at first)"}};
}

void VcdSource::change_real(std::size_t signal, std::string_view number) {
    if (!definitions_->signals[signal].is_real) {
        throw Complaint{fmt::format("the real number {} for a signal of bits", shown(number))};
    }
    for (const PlacedTap& placed : taps_) {
        if (placed.place.index == signal)
            moment_.lines = rules_.with_volts(moment_.lines, placed.tap, parse_volts(number, "a real value"));
    }
}

} // namespace winkhold::taps::capture
