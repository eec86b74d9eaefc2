#include "winkhold/taps/capture/detail/vcd_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/decimal.hpp"

#include <charconv>
#include <fmt/format.h>
#include <limits>

namespace winkhold::taps::capture {
namespace {

// Of IEEE 1164: 0 and 1, the same weakly driven (L, H), and what is neither.
constexpr std::string_view nine_states = "01xXzZuUwWlLhH-";

} // namespace

VcdSource::VcdSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options)
    : file_(std::move(file)), words_(std::move(input)), rules_(options), on_volts_(options.on_volts) {
    located(file_, words_.line(), [&] { read_definitions(options); });
}

void VcdSource::read_definitions(const RecordingOptions& options) {
    definitions_ = read_vcd_definitions(words_, options.time_unit);
    const VcdSignals& signals = definitions_->signals;
    Placement placement = place_taps(
        options, {"signal", signals.names(), [&](std::string_view name) { return signals.find(name); }});
    taps_ = std::move(placement.taps);
    left_out_ = std::move(placement.left_out);
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
        const std::uint64_t ticks = moment_.ticks;
        const auto progress = plain_changes_->read(words_.at(), words_.end(), moment_, edges_);
        words_.pass(progress.at, progress.lines);
        if (moment_.ticks != ticks) section_.clear();
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
    section_.clear(); // some generators leave it open
}

void VcdSource::read_command(std::string_view word) {
    if (word == "$end") return section_.clear();
    if (word == "$comment" || word == "$vcdclose") return words_.skip_to_end(std::string(word));
    if (word != "$dumpvars" && word != "$dumpall" && word != "$dumpon" && word != "$dumpoff") {
        throw Complaint{
            fmt::format("{} has no place behind $enddefinitions; is the file damaged?", shown(word))};
    }
    section_ = word;
}

void VcdSource::read_change(std::string_view word) {
    const char kind = word.front();
    if (nine_states.find(kind) != nine_states.npos)
        return change(signal_of(word.substr(1)), word.substr(0, 1), false);
    if (kind == 's' || kind == 'S') return pass_text();
    if (std::string_view("bBrR").find(kind) == std::string_view::npos)
        throw Complaint{fmt::format("{} is no value change; is the file damaged?", shown(word))};
    value_ = word.substr(1);
    change(signal_of(words_.expect("a value")), value_, kind == 'r' || kind == 'R');
}

// A text may have blanks in it: the code of a text signal ends it, at the latest at the end of the line.
void VcdSource::pass_text() {
    const VcdSignals& signals = definitions_->signals;
    const long long line = words_.line();
    std::size_t signal = VcdSignals::undeclared;
    do
        signal = signals.index_of(words_.expect("a value"));
    while (words_.line() == line &&
           (signal == VcdSignals::undeclared || signals[signal].kind != VcdSignal::Kind::text));
    if (signal == VcdSignals::undeclared || words_.line() != line)
        throw Complaint{"a text without the code of its signal; is the recording cut off?"};
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

// Of signals that are no taps anything goes.
void VcdSource::change(std::size_t signal, std::string_view value, bool is_real) {
    for (const PlacedTap& placed : taps_) {
        if (placed.place.index != signal) continue;
        try {
            change_tap(placed, value, is_real);
        } catch (const Complaint& complaint) {
            if (placed.is_asked) throw;
            unread_.add(placed.tap, moment_.t_us, complaint.what);
        }
    }
}

void VcdSource::change_tap(const PlacedTap& placed, std::string_view value, bool is_real) {
    const VcdSignal& declared = definitions_->signals[placed.place.index];
    const bool is_bits = declared.kind == VcdSignal::Kind::bits;
    if (is_real && is_bits)
        throw Complaint{fmt::format("the real number {} for a signal of bits", shown(value))};
    if (is_real) {
        const double volts = parse_volts(value, 0, "a real value");
        if (on_volts_) on_volts_(moment_.t_us, placed.tap, volts);
        moment_.lines = rules_.with_volts(moment_.lines, placed.tap, volts);
        return;
    }
    const bool is_value = !value.empty() && value.find_first_not_of(nine_states) == value.npos;
    if (!is_value || !is_bits || value.size() > declared.width) {
        throw Complaint{
            fmt::format("{} is no value for a {}", shown(value),
                        is_bits ? fmt::format("signal of {} bits", declared.width) : "real signal")};
    }
    change_bit(placed, value);
}

void VcdSource::change_bit(const PlacedTap& placed, std::string_view bits) {
    // Short values go on to the left with 0, or with the state they start with if it is not 1.
    const char extension = bits.front() == '1' ? '0' : bits.front();
    const bool is_written = placed.place.bit < bits.size();
    const char bit = is_written ? bits[bits.size() - 1 - placed.place.bit] : extension;
    if (std::string_view("0lL").find(bit) != std::string_view::npos)
        moment_.lines = rules_.with_level(moment_.lines, placed.tap, false);
    else if (std::string_view("1hH").find(bit) != std::string_view::npos)
        moment_.lines = rules_.with_level(moment_.lines, placed.tap, true);
    else if (unknown_count_++ == 0)
        first_unknown_us_ = moment_.t_us;
}

std::vector<Caveat> VcdSource::caveats() const {
    std::vector<Caveat> caveats = left_out_;
    if (unknown_count_ > 0)
        caveats.push_back(
            {"level-not-known", unknown_count_, first_unknown_us_,
             "a tap is x or z, not known or not driven; until it is 0 or 1 again it is taken to "
             "stay as it was (dark at first)"});
    unread_.add_caveats(caveats);
    return caveats;
}

} // namespace winkhold::taps::capture
