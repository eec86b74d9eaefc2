/// A line's level from a sound that passes its changes only.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <vector>

namespace winkhold::taps::capture {

/// A sound input is AC-coupled: behind each change the sound droops to its middle, so how high it stands says
/// nothing. The line rises where the sound has come up by more than a given change from its lowest within a
/// window, and falls where it has gone down so from its highest since.
class SoundLine {
public:
    /// `window` in samples, at least 1; `change` as the samples count.
    SoundLine(std::size_t window, float change) : change_(change), kept_(window + 1) {}

    /// Takes the next sample; true if the level changes with it.
    bool feed(float sample) {
        const float towards = high_ ? -sample : sample;
        while (count_ > 0 && kept(count_ - 1).towards >= towards)
            --count_;
        if (count_ > 0 && now_ - kept(0).at >= static_cast<std::int64_t>(kept_.size())) {
            first_ = first_ + 1 == kept_.size() ? 0 : first_ + 1;
            --count_;
        }
        kept(count_++) = {now_, towards};
        const float change = towards - kept(0).towards;
        if (change > largest_change_) largest_change_ = change;
        const bool changes = change > change_;
        if (changes) {
            high_ = !high_;
            count_ = 1;
            kept(0) = {now_, -towards};
        }
        ++now_;
        return changes;
    }

    bool high() const { return high_; }
    float largest_change() const { return largest_change_; }

private:
    struct Sample {
        std::int64_t at;
        float towards; ///< counted towards the next change
    };

    Sample& kept(std::size_t i) {
        const std::size_t at = first_ + i;
        return kept_[at < kept_.size() ? at : at - kept_.size()];
    }

    float change_;
    float largest_change_{0};
    bool high_{false};
    std::int64_t now_{0};
    // Those of the window that may be its lowest when all ahead of them have left it: rising, oldest first.
    std::vector<Sample> kept_;
    std::size_t first_{0};
    std::size_t count_{0};
};

} // namespace winkhold::taps::capture
