/// What a ride teaches that is worth keeping: how long this bike's flashes are lit.
#pragma once

#include "store.hpp"

#include "winkhold/core/sequence.hpp"

namespace winkhold {
namespace firmware {

/// With it the first flash after power-up is filled in time, too, where flashes are short. Kept once a
/// power-up at most, and only if it is another than before: the EEPROM stands 100,000 writes (data sheet,
/// from memory).
class Learned {
public:
    /// After each step of the board.
    void note(const core::Board& board, core::Micros now, Store& store) {
        using namespace core;
        const Indication shown = board.decoder().indication();
        if (shown == shown_) return;
        const bool long_enough = elapsed_us(now, since_) >= enough_us;
        const Indication ended = shown_;
        shown_ = shown;
        since_ = now;
        if (done_ || !long_enough || (ended != Indication::left && ended != Indication::right)) return;
        const Side side = ended == Indication::left ? Side::left : Side::right;
        if (board.decoder().faults(side) == 0) keep(board.sequence().flash(side).fits_us(), store);
    }

private:
    /// A request of four seconds has at least three flashes (45 a minute, from memory).
    static constexpr uint32_t enough_us = 4000000;

    /// `fits_us` is the on time less an eighth.
    void keep(core::Span fits_us, Store& store) {
        const core::Span on_us = static_cast<core::Span>(fits_us + core::share_us(fits_us, 7));
        core::SequenceSettings& timing = store.kept().timing;
        if (timing.source != core::FlashSource::following || fits_us > core::built_in::longest_gap_us) return;
        done_ = true;
        const core::Span before_us = timing.on_prior_us;
        const core::Span apart_us = on_us > before_us ? on_us - before_us : before_us - on_us;
        if (apart_us <= (before_us >> 3)) return;
        timing.on_prior_us = on_us;
        store.keep();
    }

    core::Micros since_{};
    core::Indication shown_{core::Indication::off};
    bool done_{false};
};

} // namespace firmware
} // namespace winkhold
