#include "winkhold/taps/capture/detail/wav_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

constexpr std::size_t samples_at_once = 32'768;

Offer offered_channels(std::size_t channels) {
    Offer offer{"channel", {}, [channels](std::string_view name) -> std::optional<Place> {
                    if (channels == 2 && (name == "left" || name == "right"))
                        return Place{name == "left" ? 0u : 1u};
                    std::size_t number = 0;
                    const char* const end = name.data() + name.size();
                    const auto [rest, error] = std::from_chars(name.data(), end, number);
                    if (error != std::errc{} || rest != end || number < 1 || number > channels)
                        return std::nullopt;
                    return Place{number - 1};
                }};
    for (std::size_t number = 1; number <= channels; ++number)
        offer.names.push_back(fmt::format("{}", number));
    return offer;
}

} // namespace

WavSource::WavSource(std::string file, std::unique_ptr<InputFile> input, const RecordingOptions& options)
    : file_(std::move(file)), wav_(std::move(input)), sign_(options.active_high ? 1.0f : -1.0f),
      change_(options.sound_change) {
    const auto window = static_cast<std::size_t>(wav_.rate_hz() * sound_window_us / 1'000'000);
    for (const PlacedTap& placed : place_taps(options, offered_channels(wav_.channels())).taps) {
        taps_.push_back({placed.tap, placed.place.index,
                         SoundLine(std::max<std::size_t>(1, window), static_cast<float>(change_))});
    }
    if (time_us(wav_.frames()) > latest_us)
        throw Complaint{"longer than the ten years a recording may last; is the head of the file damaged?"};
    samples_.resize(std::max(samples_at_once / wav_.channels(), std::size_t{1}) * wav_.channels());
}

bool WavSource::next(Edge& edge) {
    return located(file_, 0, [&] {
        while (taken_ < read_ || refill()) {
            const bool is_first = frame_ == 0;
            if (!take_frame() && !is_first) continue;
            edge = {time_us(frame_ - 1), lines_};
            return true;
        }
        return false;
    });
}

bool WavSource::refill() {
    read_ = wav_.read(samples_.data(), samples_.size() / wav_.channels());
    taken_ = 0;
    return read_ > 0;
}

// True if a line changes.
bool WavSource::take_frame() {
    const float* const frame = samples_.data() + taken_ * wav_.channels();
    bool changes = false;
    for (Tap& tap : taps_) {
        const float sample = sign_ * frame[tap.channel];
        if (!std::isfinite(sample)) {
            throw Complaint{fmt::format("sample {} of channel {} is no finite number; is the file damaged?",
                                        frame_, tap.channel + 1)};
        }
        if (!tap.line.feed(sample)) continue;
        lines_ = lines_.with(tap.tap, tap.line.high());
        changes = true;
    }
    ++taken_;
    ++frame_;
    return changes;
}

TimeUs WavSource::time_us(std::int64_t frame) const {
    constexpr std::int64_t us_per_s = 1'000'000;
    return frame / wav_.rate_hz() * us_per_s + frame % wav_.rate_hz() * us_per_s / wav_.rate_hz();
}

std::vector<Caveat> WavSource::caveats() const {
    float largest = 0;
    for (const Tap& tap : taps_)
        largest = std::max(largest, tap.line.largest_change());
    std::vector<Caveat> caveats;
    caveats.push_back(
        {"sound", 1, 0,
         fmt::format("a sound input passes changes, not levels: a line counts as lit from a rise "
                     "of over {:.3g} % of full scale to such a fall, and dark at first; the "
                     "largest change is {:.3g} %{}",
                     100 * change_, 100 * largest,
                     largest > change_ ? "" : ": record louder, or lower --change")});
    if (wav_.is_cut()) {
        caveats.push_back({"cut-off", 1, end_us(),
                           "the file ends ahead of what its head promises; copy or record it again", true});
    }
    return caveats;
}

} // namespace winkhold::taps::capture
