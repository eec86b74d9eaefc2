#include "winkhold/taps/capture/detail/vcd_plain_changes.hpp"

#include "winkhold/taps/capture/detail/decimal.hpp"

namespace winkhold::taps::capture {
namespace {

bool ends_word(char c) {
    return c == '\n' || c == ' ' || c == '\r';
}

} // namespace

VcdPlainChanges::VcdPlainChanges(const VcdDefinitions& definitions, const std::vector<PlacedTap>& taps,
                                 const TapRules& rules)
    : timescale_(definitions.timescale) {
    for (std::size_t code = 0; code < changes_.size(); ++code) {
        const char text = static_cast<char>(code);
        const std::size_t signal = definitions.signals.index_of({&text, 1});
        if (signal == VcdSignals::undeclared) continue;
        const auto [is_real, width] = definitions.signals[signal];
        Change& change = changes_[code];
        change.is_plain = !is_real && width == 1;
        for (const PlacedTap& placed : taps) {
            if (placed.place.index != signal) continue;
            change.other_taps &= static_cast<std::uint8_t>(~placed.tap);
            for (const bool high : {false, true}) {
                change.levels[high] = rules.with_level(Lines(change.levels[high]), placed.tap, high).bits();
            }
        }
    }
}

VcdPlainChanges::Progress VcdPlainChanges::read(const char* at, const char* end, VcdMoment& moment,
                                                std::span<Edge> edges) const {
    VcdMoment now = moment;
    Progress progress;
    while (at != end && progress.edges < edges.size()) {
        if (*at == '\n') {
            ++progress.lines;
            ++at;
        } else if (*at == '0' || *at == '1') {
            const Change& change = changes_[static_cast<unsigned char>(at[1])];
            if (!change.is_plain || !ends_word(at[2])) break;
            now.lines = Lines((now.lines.bits() & change.other_taps) | change.levels[*at & 1]);
            at += 2;
        } else if (*at == '#') {
            const Edge edge{now.t_us, now.lines};
            const char* const after = read_ticks(at + 1, now);
            if (after == nullptr) break;
            edges[progress.edges] = edge;
            progress.edges += edge.lines != now.reported ? 1 : 0;
            now.reported = edge.lines;
            at = after;
        } else if (*at == '\r' || *at == ' ') {
            ++at;
        } else {
            break;
        }
    }
    moment = now;
    progress.at = at;
    return progress;
}

// Returns the first byte behind the time stamp, or nullptr, and `moment` unchanged, if it isn't plain.
inline const char* VcdPlainChanges::read_ticks(const char* at, VcdMoment& moment) const {
    Decimal number;
    const char* const after = scan_plain(at, number);
    if (after == nullptr || number.exponent != 0 || !ends_word(*after)) return nullptr;
    const TimeUs t_us = timescale_.to_us(number.digits);
    if (number.digits < moment.ticks || t_us > latest_us) return nullptr;
    moment.ticks = number.digits;
    moment.t_us = t_us;
    return after;
}

} // namespace winkhold::taps::capture
