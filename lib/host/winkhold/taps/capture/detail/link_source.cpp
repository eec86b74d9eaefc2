#include "winkhold/taps/capture/detail/link_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <array>

namespace winkhold::taps::capture {
namespace {

constexpr std::string_view head = "# winkhold link ";

Offer offered_taps() {
    Offer offer{"tap", {}, {}};
    for (const NamedTap& tap : named_taps)
        offer.names.emplace_back(tap.name);
    offer.find = [names = offer.names](std::string_view name) -> std::optional<Place> {
        const auto found = std::find(names.begin(), names.end(), name);
        if (found == names.end()) return std::nullopt;
        return Place{static_cast<std::size_t>(found - names.begin())};
    };
    return offer;
}

} // namespace

LinkSource::LinkSource(std::string file, std::unique_ptr<InputFile> input, const RecordingOptions& options)
    : file_(std::move(file)), input_(std::move(input)), rules_(options),
      taps_(place_taps(options, offered_taps()).taps) {
    const std::string_view start = input_->start();
    if (start.starts_with(head) && !start.substr(head.size()).starts_with("2\n") &&
        !start.substr(head.size()).starts_with("2\r"))
        throw Complaint{"this log of a board is of another version than 2; take a newer program"};
}

bool LinkSource::is_one(std::string_view start) {
    if (start.starts_with(head)) return true;
    const auto is_digit = [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); };
    return start.size() > 6 && start[0] == ':' && start[5] == ' ' &&
           std::all_of(start.begin() + 1, start.begin() + 5, is_digit);
}

bool LinkSource::next(Edge& edge) {
    while (ready_.empty())
        if (!located(file_, 0, [this] { return refill(); })) return false;
    edge = ready_.front();
    ready_.pop_front();
    return true;
}

bool LinkSource::refill() {
    std::array<char, 16'384> bytes;
    const std::size_t count = input_->read(bytes.data(), bytes.size());
    if (count != 0) {
        link_.feed({bytes.data(), count}, *this);
        return true;
    }
    link_.stop();
    if (!has_levels_)
        throw Complaint{
            "no line of it says what the taps were; was anything recorded, and is this a log of the "
            "board's port, at 250000 baud?"};
    return false;
}

void LinkSource::levels(TimeUs t_us, core::Lines lines) {
    if (t_us > latest_us) throw Complaint{"beyond the ten years a recording may last"};
    const Lines before = lines_;
    for (const PlacedTap& placed : taps_)
        lines_ = rules_.with_level(lines_, placed.tap, (lines.bits() >> placed.place.index & 1) != 0);
    if (!has_levels_ || lines_ != before) ready_.push_back({t_us, lines_});
    has_levels_ = true;
    last_us_ = t_us;
}

void LinkSource::edge(TimeUs t_us, core::Lines lines) {
    levels(t_us, lines);
}

void LinkSource::heartbeat(TimeUs t_us, core::Lines lines, core::Indication) {
    levels(t_us, lines);
}

// The board counts from its start; only what was dropped while this log was written concerns it.
void LinkSource::counters(const BoardCounters& counters) {
    if (counted_ && counters.dropped_edges > counted_->dropped_edges) {
        if (dropped_edges_ == 0) first_dropped_us_ = last_us_;
        dropped_edges_ += counters.dropped_edges - counted_->dropped_edges;
    }
    counted_ = counters;
}

void LinkSource::missing(std::int64_t lines) {
    if (link_.health().missing == lines) first_missing_us_ = last_us_;
}

void LinkSource::restarted(TimeUs t_us) {
    if (link_.health().restarts == 1) first_restart_us_ = t_us;
    counted_.reset();
}

std::vector<Caveat> LinkSource::caveats() const {
    const LinkHealth& health = link_.health();
    std::vector<Caveat> caveats;
    const auto add = [&](std::string_view name, std::int64_t count, TimeUs first_us, const char* text,
                         bool lost) {
        if (count > 0) caveats.push_back({name, count, first_us, text, lost});
    };
    add("lines-missing", health.missing, first_missing_us_,
        "of the board's log, by their numbers; levels in between are not known and taken to stay as they "
        "were: "
        "don't trust the answer there, and look at the cable",
        true);
    add("edges-lost", dropped_edges_, first_dropped_us_,
        "the board's port was too slow for them, and the board dropped them; it counts them", true);
    add("board-restarts", health.restarts, first_restart_us_,
        "the board began anew; how long that took is not known, the times go on without it", true);
    add("lines-damaged", health.damaged, 0, "lines were spoilt on the way and passed over", false);
    return caveats;
}

} // namespace winkhold::taps::capture
