/// The samples of a WAV file (RIFF PCM).
#pragma once

#include "winkhold/base/wings.hpp"
#include "winkhold/taps/capture/detail/input_file.hpp"

#include <cstdint>
#include <memory>

struct sf_private_tag;

namespace winkhold::taps::capture {

/// Throws Complaint if the file is no WAV file of 8 to 32 bit or floating-point samples.
class WavFile {
public:
    explicit WavFile(std::unique_ptr<InputFile> input);

    std::int64_t rate_hz() const { return rate_hz_; }
    std::size_t channels() const { return channels_; }
    std::int64_t frames() const { return frames_; }
    /// True if the file ends ahead of what its head promises.
    bool is_cut() const { return is_cut_; }

    /// Writes samples of up to `frames` frames, each channels() of them, full scale -1 to 1; returns how many
    /// frames, 0 at the end.
    std::size_t read(float* samples, std::size_t frames);

private:
    struct Close {
        void operator()(sf_private_tag* sound) const;
    };

    std::unique_ptr<InputFile> input_;
    std::unique_ptr<sf_private_tag, Close> sound_;
    std::int64_t rate_hz_{0};
    std::size_t channels_{0};
    std::int64_t frames_{0};
    bool is_cut_{false};
};

} // namespace winkhold::taps::capture
