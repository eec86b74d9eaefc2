/// Edges from the log of this project's recorder firmware.
#pragma once

#include "winkhold/taps/capture/detail/taps.hpp"
#include "winkhold/taps/capture/detail/text_input.hpp"

#include <memory>

namespace winkhold::taps::capture {

/// A recorder log is ASCII, in lines that end in LF (CR LF passes):
///
///     # winkhold recorder 1 tick_us=4    the first line: version 1, how long a tick is (down to 0.001 us)
///     # anything                         a comment
///     1000 01                            an edge: tick, and the taps from then on
///     h 250000 01                        the same, each second: nothing need have changed
///     o 12                               12 edges were lost ahead of the next line
///
/// A tick is a count of 32 bits that wraps; times count from tick 0 of the first line's round. Taps are two
/// hexadecimal digits, bit 0 left, 1 right, 2 brake, 3 tail. The wrap can only be told with the heartbeats: a
/// count that goes back is one if the line comes no more than `longest_silence_us` behind the one ahead.
/// Where edges were lost the levels are taken to stay; a caveat says so.
class RecorderSource : public EdgeSource {
public:
    static constexpr TimeUs longest_silence_us = 2'500'000;

    /// Reads the first line. `file` names the input in errors.
    RecorderSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options);

    bool next(Edge& edge) override;
    TimeUs end_us() const override { return t_us_; }
    std::vector<Caveat> caveats() const override;

private:
    bool have_line() { return at_ != input_->end() || refill(); }
    bool refill();
    std::string_view take_line();
    void read_head(std::string_view line);
    bool read_line(std::string_view line);
    void read_loss(std::string_view count);
    bool read_levels(std::string_view line, bool is_heartbeat);
    void advance_to(std::uint32_t tick);
    void lost(std::int64_t edges);

    std::string file_;
    std::unique_ptr<TextInput> input_;
    const char* at_;
    long long line_{0}; // of the line taken last
    TapRules rules_;
    std::vector<PlacedTap> taps_;

    std::int64_t tick_ns_{0};
    std::int64_t ticks_{0}; // of the line read last, unwrapped
    TimeUs t_us_{0};
    bool has_levels_{false};
    unsigned level_bits_{0}; // as the log has them
    Lines lines_{};

    std::int64_t lost_edges_{0};
    TimeUs first_lost_us_{0};
    bool is_lossy_{false}; // since the line ahead
    std::int64_t silences_{0};
    TimeUs first_silence_us_{0};
};

} // namespace winkhold::taps::capture
