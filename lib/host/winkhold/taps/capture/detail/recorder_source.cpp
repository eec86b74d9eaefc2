#include "winkhold/taps/capture/detail/recorder_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

constexpr std::string_view head = "# winkhold recorder ";
constexpr std::string_view head_of_version_1 = "# winkhold recorder 1 tick_us=";
constexpr unsigned all_taps = 0xF;

Offer offered_taps() {
    Offer offer{"tap", {"left", "right", "brake", "tail"}, {}};
    offer.find = [names = offer.names](std::string_view name) -> std::optional<Place> {
        const auto found = std::find(names.begin(), names.end(), name);
        if (found == names.end()) return std::nullopt;
        return Place{static_cast<std::size_t>(found - names.begin())};
    };
    return offer;
}

// The whole text as a number, if it is one.
template <class Number, class... Base>
std::optional<Number> whole_number(std::string_view text, Base... base) {
    Number number{};
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, number, base...);
    if (error != std::errc{} || rest != end) return std::nullopt;
    return number;
}

} // namespace

RecorderSource::RecorderSource(std::string file, std::unique_ptr<TextInput> input,
                               const RecordingOptions& options)
    : file_(std::move(file)), input_(std::move(input)), at_(input_->begin()), rules_(options),
      taps_(place_taps(options, offered_taps()).taps) {
    located(file_, line_, [this] { read_head(take_line()); });
}

bool RecorderSource::refill() {
    const bool more = input_->refill(at_);
    at_ = input_->begin();
    return more;
}

std::string_view RecorderSource::take_line() {
    ++line_;
    const char* const end = std::find(at_, input_->end(), '\n');
    std::string_view line(at_, static_cast<std::size_t>(end - at_));
    if (line.ends_with('\r')) line.remove_suffix(1);
    at_ = end + 1;
    return line;
}

void RecorderSource::read_head(std::string_view line) {
    if (!line.starts_with(head)) {
        throw Complaint{fmt::format("a recorder's log starts with \"{}=4\" and not with {}; was the start of "
                                    "the log lost? Start the recorder behind the program that saves it",
                                    head_of_version_1.substr(0, head_of_version_1.size() - 1), shown(line))};
    }
    const std::string_view tick = line.substr(std::min(line.size(), head_of_version_1.size()));
    const double tick_ns = 1e3 * whole_number<double>(tick).value_or(0);
    const bool is_known = line.starts_with(head_of_version_1);
    if (!is_known || !(tick_ns >= 1 && tick_ns <= 1e9) || std::abs(tick_ns - std::round(tick_ns)) > 1e-6) {
        throw Complaint{
            fmt::format("{} is no head this program knows; it must end in 1 tick_us= and a number "
                        "from 0.001 to 1000000",
                        shown(line))};
    }
    tick_ns_ = std::llround(tick_ns);
}

bool RecorderSource::next(Edge& edge) {
    return located(file_, line_, [&] {
        while (have_line()) {
            if (!read_line(take_line())) continue;
            edge = {t_us_, lines_};
            return true;
        }
        if (!has_levels_) throw Complaint{"no edge and no heartbeat behind the head; was anything recorded?"};
        return false;
    });
}

bool RecorderSource::read_line(std::string_view line) {
    if (line.starts_with(head)) {
        throw Complaint{
            "the recorder started anew here, and its clock with it; save the rest, from this line "
            "on, as a recording of its own"};
    }
    if (line.starts_with('#')) return false;
    if (line.starts_with("o ")) {
        read_loss(line.substr(2));
        return false;
    }
    const bool is_heartbeat = line.starts_with("h ");
    return read_levels(line.substr(is_heartbeat ? 2 : 0), is_heartbeat);
}

void RecorderSource::read_loss(std::string_view count) {
    const auto edges = whole_number<std::uint32_t>(count);
    if (!edges)
        throw Complaint{fmt::format("{} is no count of lost edges; is the log damaged?", shown(count))};
    lost(*edges);
    is_lossy_ = true;
}

bool RecorderSource::read_levels(std::string_view line, bool is_heartbeat) {
    const std::size_t space = std::min(line.find(' '), line.size());
    const std::string_view taps = line.substr(std::min(space + 1, line.size()));
    const auto tick = whole_number<std::uint32_t>(line.substr(0, space));
    const auto bits = whole_number<unsigned>(taps, 16);
    if (!tick || !bits || taps.size() != 2 || *bits > all_taps) {
        throw Complaint{
            fmt::format("{} is no line of a recorder's log, which has a tick and two digits, such "
                        "as \"1000 01\"; is it damaged or cut off here?",
                        shown(line))};
    }
    advance_to(*tick);
    if (is_heartbeat && has_levels_ && !is_lossy_ && *bits != level_bits_) lost(1);
    const bool is_first = !has_levels_;
    const Lines before = lines_;
    is_lossy_ = false;
    has_levels_ = true;
    level_bits_ = *bits;
    for (const PlacedTap& placed : taps_)
        lines_ = rules_.with_level(lines_, placed.tap, (*bits >> placed.place.index & 1) != 0);
    return is_first || lines_ != before;
}

void RecorderSource::advance_to(std::uint32_t tick) {
    const auto last = static_cast<std::uint32_t>(ticks_);
    const std::uint32_t passed = has_levels_ ? tick - last : tick;
    const bool is_silence = has_levels_ && passed * tick_ns_ / 1'000 > longest_silence_us;
    if (is_silence && tick < last) {
        throw Complaint{
            fmt::format("the tick goes from {} back to {} with no heartbeat for over 2 s, so nobody can tell "
                        "how much time "
                        "passed; lines are missing here: split the log and decode the parts, or record again",
                        last, tick)};
    }
    if (is_silence && silences_++ == 0) first_silence_us_ = t_us_;
    ticks_ += passed;
    t_us_ = ticks_ * tick_ns_ / 1'000;
    if (t_us_ > latest_us)
        throw Complaint{"beyond the ten years a recording may last; is tick_us in the first line right?"};
}

void RecorderSource::lost(std::int64_t edges) {
    if (lost_edges_ == 0) first_lost_us_ = t_us_;
    lost_edges_ += edges;
}

std::vector<Caveat> RecorderSource::caveats() const {
    std::vector<Caveat> caveats;
    if (lost_edges_ > 0) {
        caveats.push_back(
            {"edges-lost", lost_edges_, first_lost_us_,
             "the recorder could not keep up; levels in between are not known and taken to stay "
             "as they were: don't trust the answer there, and record again",
             true});
    }
    if (silences_ > 0) {
        caveats.push_back({"heartbeat-missing", silences_, first_silence_us_,
                           "over 2 s without any line, though the recorder writes one each second; edges may "
                           "be missing: look at the cable, and record again",
                           true});
    }
    return caveats;
}

} // namespace winkhold::taps::capture
