/// The host checks the board: it decodes the same edges with the same settings, and compares.
#pragma once

#include "winkhold/taps/trace/replay.hpp"

#include <cstdint>
#include <optional>

namespace winkhold::live {

/// What the board shows, and what its own edges say it should.
struct Difference {
    TimeUs t_us{0};
    core::Indication board{};
    core::Indication host{};
};

/// Decodes beside the board. A decoder that has not seen the past may answer otherwise for good reason: so
/// after joining, a restart or lines that are missing, answers count only once they have agreed for
/// `rises_that_agree`, or after `rises_that_teach`, by when all has been learned anew (two blocks of 24
/// flashes, and trust from its least).
class HostAnswer {
public:
    static constexpr int rises_that_agree = 12;
    static constexpr int rises_that_teach = 150;

    HostAnswer() : replay_(core::Settings{}) {}

    /// Settings in force from now on.
    void settings(const core::Settings& settings);
    /// Raw taps from then on.
    void edge(TimeUs t_us, core::Lines lines);
    /// What the board shows at that moment. A difference is told once, when it begins.
    std::optional<Difference> shown(TimeUs t_us, core::Indication board);
    /// Lines are missing.
    void missing();
    /// The board has begun anew, and so does this.
    void restarted();

    /// Answers count.
    bool in_step() const { return in_step_; }
    /// So many have begun.
    std::int64_t differences() const { return differences_; }
    /// For its rhythm.
    const core::Decoder& decoder() const { return replay_.machine(); }

private:
    void run(TimeUs t_us);

    Replay replay_;
    core::Settings settings_;
    core::Lines lines_;
    bool knows_settings_{false};
    bool in_step_{false};
    bool differs_{false};
    int agreed_{0};
    int rises_{0};
    std::int64_t differences_{0};
};

} // namespace winkhold::live
