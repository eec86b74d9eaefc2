#include "winkhold/taps/capture/detail/wav_file.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <cstring>
#include <fmt/format.h>
#include <sndfile.h>

namespace winkhold::taps::capture {
namespace {

// No sound input samples faster; more would only be a damaged head.
constexpr int fastest_hz = 10'000'000;

// Bytes of a sample, or 0 if samples are compressed.
int bytes_of(int format) {
    switch (format & SF_FORMAT_SUBMASK) {
    case SF_FORMAT_PCM_U8:
        return 1;
    case SF_FORMAT_PCM_16:
        return 2;
    case SF_FORMAT_PCM_24:
        return 3;
    case SF_FORMAT_PCM_32:
    case SF_FORMAT_FLOAT:
        return 4;
    case SF_FORMAT_DOUBLE:
        return 8;
    default:
        return 0;
    }
}

// What the head says the samples take; 0 if it doesn't.
std::int64_t promised_bytes(SNDFILE* sound) {
    SF_CHUNK_INFO data{};
    std::memcpy(data.id, "data", 4);
    data.id_size = 4;
    const SF_CHUNK_ITERATOR* const chunk = sf_get_chunk_iterator(sound, &data);
    if (chunk == nullptr || sf_get_chunk_size(chunk, &data) != SF_ERR_NO_ERROR) return 0;
    // what recorders leave there that were stopped hard
    return data.datalen == 0xFFFFFFFF ? 0 : data.datalen;
}

} // namespace

WavFile::WavFile(std::unique_ptr<InputFile> input) : input_(std::move(input)) {
    SF_INFO info{};
    sound_.reset(sf_open_fd(input_->rewound(), SFM_READ, &info, SF_FALSE));
    if (sound_ == nullptr) {
        throw Complaint{fmt::format("can't be read as a WAV file ({}); save it again, as 16 bit PCM",
                                    shown(sf_strerror(nullptr)))};
    }
    const int bytes = bytes_of(info.format);
    if (bytes == 0) throw Complaint{"the sound is compressed, which loses edges; save it as WAV, 16 bit PCM"};
    if (info.samplerate < 1 || info.samplerate > fastest_hz) {
        throw Complaint{fmt::format("{} samples a second are out of range (1 to 10 million); is the head of "
                                    "the file damaged?",
                                    info.samplerate)};
    }
    if (info.frames < 1) throw Complaint{"no samples in the file; was anything recorded?"};
    rate_hz_ = info.samplerate;
    channels_ = static_cast<std::size_t>(info.channels);
    frames_ = info.frames;
    is_cut_ = promised_bytes(sound_.get()) >= (frames_ + 1) * info.channels * bytes;
}

void WavFile::Close::operator()(sf_private_tag* sound) const {
    sf_close(sound);
}

std::size_t WavFile::read(float* samples, std::size_t frames) {
    const sf_count_t count = sf_readf_float(sound_.get(), samples, static_cast<sf_count_t>(frames));
    if (sf_error(sound_.get()) != SF_ERR_NO_ERROR)
        throw Complaint{"reading the samples failed; is the file damaged? Copy it again"};
    return static_cast<std::size_t>(count);
}

} // namespace winkhold::taps::capture
