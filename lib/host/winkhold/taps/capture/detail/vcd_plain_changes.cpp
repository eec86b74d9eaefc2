#include "winkhold/taps/capture/detail/vcd_plain_changes.hpp"

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
        Change& change = changes_[code];
        change.is_plain = definitions.signals[signal] == VcdSignal{};
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
                                                std::span<Edge> edges) {
    VcdMoment now = moment;
    Progress progress;
    while (at != end && progress.edges < edges.size()) {
        if (*at == '0' || *at == '1') {
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
        } else if (!ends_word(*at)) {
            break;
        }
        // behind a word, or white space itself
        progress.lines += *at == '\n' ? 1 : 0;
        ++at;
    }
    moment = now;
    progress.at = at;
    return progress;
}

// Returns the first byte behind the time stamp, or nullptr, and `moment` unchanged, if it isn't plain.
inline const char* VcdPlainChanges::read_ticks(const char* at, VcdMoment& moment) {
    const auto [behind, ticks, exponent] = number_.read(at, '.');
    if (behind == nullptr || exponent != 0 || !ends_word(*behind)) return nullptr;
    const TimeUs t_us = timescale_.to_us(ticks);
    if (ticks < moment.ticks || t_us > latest_us) return nullptr;
    moment.ticks = ticks;
    moment.t_us = t_us;
    return behind;
}

} // namespace winkhold::taps::capture
