/// Edges from a WAV file.
#pragma once

#include "winkhold/taps/capture/detail/sound_line.hpp"
#include "winkhold/taps/capture/detail/taps.hpp"
#include "winkhold/taps/capture/detail/wav_file.hpp"

#include <memory>

namespace winkhold::taps::capture {

/// All lines are dark at first; the first sample is an edge. Sample number i is at i / rate, rounded down to
/// 1 us.
class WavSource : public EdgeSource {
public:
    /// `file` names the input in errors.
    WavSource(std::string file, std::unique_ptr<InputFile> input, const RecordingOptions& options);

    bool next(Edge& edge) override;
    TimeUs end_us() const override { return time_us(frame_ - 1); }
    std::vector<Caveat> caveats() const override;

private:
    struct Tap {
        Lines::Tap tap;
        std::size_t channel;
        SoundLine line;
    };

    bool refill();
    bool take_frame();
    TimeUs time_us(std::int64_t frame) const;

    std::string file_;
    WavFile wav_;
    float sign_; // -1: a line that goes low lights
    double change_;
    std::vector<Tap> taps_;
    Lines lines_{};

    std::vector<float> samples_;
    std::size_t read_{0};   // frames in there
    std::size_t taken_{0};  // and those taken
    std::int64_t frame_{0}; // number of the next one to take
};

} // namespace winkhold::taps::capture
