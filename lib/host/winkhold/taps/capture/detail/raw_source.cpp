#include "winkhold/taps/capture/detail/raw_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <bit>
#include <cstring>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

// Small enough that a block is still in the processor's cache when it is looked at.
constexpr std::size_t block = std::size_t{128} << 10;

Offer offered_bits() {
    Offer offer{"bit", {}, [](std::string_view name) -> std::optional<Place> {
                    if (name == "left") return Place{0};
                    if (name == "right") return Place{1};
                    if (name.size() != 1 || name[0] < '0' || name[0] > '7') return std::nullopt;
                    return Place{static_cast<std::size_t>(name[0] - '0')};
                }};
    for (char bit = '0'; bit <= '7'; ++bit)
        offer.names.emplace_back(1, bit);
    return offer;
}

std::uint64_t eight_times(std::uint8_t byte) {
    return byte * std::uint64_t{0x0101010101010101};
}

std::uint64_t eight_at(const std::uint8_t* at) {
    std::uint64_t bytes = 0;
    std::memcpy(&bytes, at, sizeof bytes);
    return bytes;
}

// The first byte from `at` on that differs from `level` in a bit of `mask`, else `end`. Lines rest nearly all
// the time, so that 64 samples are looked at together.
const std::uint8_t* find_other(const std::uint8_t* at, const std::uint8_t* end, std::uint8_t level,
                               std::uint8_t mask) {
    static_assert(std::endian::native == std::endian::little);
    const std::uint64_t bits = eight_times(mask);
    const std::uint64_t levels = eight_times(level & mask);
    for (; end - at >= 64; at += 64) {
        std::uint64_t differs = 0;
        for (int i = 0; i < 64; i += 8)
            differs |= eight_at(at + i) ^ levels;
        if ((differs & bits) != 0) break;
    }
    for (; end - at >= 8; at += 8) {
        const std::uint64_t differs = (eight_at(at) ^ levels) & bits;
        if (differs != 0) return at + std::countr_zero(differs) / 8;
    }
    while (at != end && ((*at ^ level) & mask) == 0)
        ++at;
    return at;
}

} // namespace

RawSource::RawSource(std::string file, std::unique_ptr<InputFile> input, const RecordingOptions& options)
    : file_(std::move(file)), input_(std::move(input)), rate_hz_(*options.sample_rate_hz),
      buffer_(std::make_unique_for_overwrite<std::uint8_t[]>(block)) {
    const TapRules rules(options);
    for (const PlacedTap& placed : place_taps(options, offered_bits()).taps) {
        const auto bit = static_cast<std::uint8_t>(1u << placed.place.index);
        mask_ |= bit;
        for (std::size_t byte = 0; byte < lines_of_.size(); ++byte)
            lines_of_[byte] = rules.with_level(lines_of_[byte], placed.tap, (byte & bit) != 0);
    }
    if (!refill()) throw Complaint{"the file is empty; was anything recorded?"};
}

bool RawSource::next(Edge& edge) {
    for (;;) {
        const std::uint8_t* const end = buffer_.get() + filled_;
        const std::uint8_t* const first = buffer_.get() + at_;
        const std::uint8_t* const other = has_edge_ ? find_other(first, end, level_, mask_) : first;
        at_ = other - buffer_.get();
        if (other != end) {
            level_ = *other;
            has_edge_ = true;
            edge = {time_us(begin_ + at_++), lines_of_[level_]};
            return true;
        }
        if (!located(file_, 0, [this] { return refill(); })) return false;
    }
}

bool RawSource::refill() {
    const std::size_t count = input_->read(reinterpret_cast<char*>(buffer_.get()), block);
    if (count == 0) return false;
    begin_ += filled_;
    filled_ = static_cast<std::int64_t>(count);
    at_ = 0;
    if (time_us(begin_ + filled_ - 1) > latest_us) {
        throw Complaint{fmt::format("at this rate sample {} is beyond the ten years a recording may last; is "
                                    "--rate right?",
                                    begin_ + filled_ - 1)};
    }
    return true;
}

TimeUs RawSource::time_us(std::int64_t sample) const {
    constexpr std::int64_t us_per_s = 1'000'000;
    return sample / rate_hz_ * us_per_s + sample % rate_hz_ * us_per_s / rate_hz_;
}

} // namespace winkhold::taps::capture
