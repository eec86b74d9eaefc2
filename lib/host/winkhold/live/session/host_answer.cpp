#include "winkhold/live/session/host_answer.hpp"

namespace winkhold::live {

void HostAnswer::settings(const core::Settings& settings) {
    settings_ = settings;
    replay_.retune(settings);
    knows_settings_ = true;
}

void HostAnswer::edge(TimeUs t_us, core::Lines lines) {
    const std::uint8_t turns = core::Lines::left | core::Lines::right;
    if ((lines.bits() & ~lines_.bits() & turns) != 0) {
        ++agreed_;
        ++rises_;
    }
    lines_ = lines;
    replay_.feed({t_us, lines}, [](TimeUs, const core::Decoder&) {});
}

std::optional<Difference> HostAnswer::shown(TimeUs t_us, core::Indication board) {
    replay_.finish(t_us, [](TimeUs, const core::Decoder&) {});
    const core::Indication host = replay_.machine().indication();
    const bool differs = host != board;
    const bool is_new = differs && !differs_;
    differs_ = differs;
    if (!in_step_ && differs) agreed_ = 0;
    if (knows_settings_ && (agreed_ >= rises_that_agree || rises_ >= rises_that_teach)) in_step_ = true;
    if (!in_step_ || !is_new) return std::nullopt;
    ++differences_;
    return Difference{t_us, board, host};
}

void HostAnswer::missing() {
    in_step_ = false;
    agreed_ = rises_ = 0;
}

void HostAnswer::restarted() {
    replay_ = Replay(settings_);
    lines_ = {};
    differs_ = false;
    missing();
}

} // namespace winkhold::live
