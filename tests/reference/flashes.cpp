#include "reference/flashes.hpp"

#include "reference/learned.hpp"

#include <algorithm>

namespace winkhold::reference {
namespace {

/// Gaps shorter than the chatter gap are none, unless the line was stuck before: the flash goes on.
std::vector<Flash> joined(const std::vector<OnPhase>& phases) {
    std::vector<Flash> flashes;
    for (const OnPhase& phase : phases) {
        const bool goes_on = !flashes.empty() && !flashes.back().stuck() &&
                             phase.rise_us - flashes.back().last_high_us() < chatter_gap_us;
        if (!goes_on) flashes.emplace_back();
        flashes.back().pieces.push_back({phase});
    }
    return flashes;
}

/// After the supply has gone down, two falls of a lit line teach nothing, both parts of the flash it split;
/// and one of a dark line, whose flash may light late.
void mark_supply_dips(std::vector<Flash>& flashes, const std::vector<Stretch>& supply) {
    std::vector<Piece*> pieces;
    for (Flash& flash : flashes)
        for (Piece& piece : flash.pieces)
            pieces.push_back(&piece);
    for (const Stretch& up : supply) {
        const bool lit = std::any_of(pieces.begin(), pieces.end(), [&](const Piece* piece) {
            return piece->phase.rise_us < up.to_us && up.to_us <= piece->phase.fall_us;
        });
        int left = lit ? 2 : 1;
        for (Piece* piece : pieces)
            if (piece->phase.fall_us >= up.to_us && left-- > 0) piece->teaches = false;
    }
}

TimeUs hold_us(const Learned& known, const core::Settings& settings) {
    const TimeUs longest_us = settings.hold_us;
    if (settings.rule == core::HoldRule::fixed) return longest_us;
    if (known.knows_gap()) return std::min(known.expected_gap_us() + settings.guard_us, longest_us);
    if (settings.gap_prior_us != 0) {
        const TimeUs widened_us = settings.gap_prior_us + (settings.spread ? settings.gap_prior_us / 4 : 0);
        return std::min(widened_us + settings.guard_us, longest_us);
    }
    return longest_us;
}

} // namespace

bool Flash::stuck() const {
    return fall_us() - start_us() > longest_on_us;
}

std::vector<Flash> flashes(const std::vector<OnPhase>& phases, const std::vector<Stretch>& supply,
                           const core::Settings& settings) {
    std::vector<Flash> flashes = joined(phases);
    if (settings.supply_gone_us != 0) mark_supply_dips(flashes, supply);
    const TimeUs chatter_us =
        std::max({chatter_gap_us, TimeUs{settings.settle_us}, TimeUs{settings.pwm_gap_us}});
    Learned known(settings);
    for (std::size_t i = 0; i < flashes.size(); ++i) {
        Flash& flash = flashes[i];
        known.flash_begins(i == 0 ? nullptr : &flashes[i - 1], flash);
        for (std::size_t k = 0; k < flash.pieces.size(); ++k) {
            Piece& piece = flash.pieces[k];
            const TimeUs on_us = piece.phase.last_high_us - flash.start_us();
            const bool in_time = piece.phase.fall_us - flash.start_us() <= longest_on_us;
            if (piece.teaches && in_time) piece.cut = known.verdict(on_us, k != 0);
            piece.hold_us = hold_us(known, settings);
            if (settings.cut_short && piece.cut == CutShort::if_it_stays_dark)
                piece.hold_us = std::min(piece.hold_us, chatter_us);
        }
    }
    return flashes;
}

} // namespace winkhold::reference
