/// Edges from what a board's serial port has said, as saved by `winkhold live` or any terminal program.
#pragma once

#include "winkhold/taps/capture/detail/input_file.hpp"
#include "winkhold/taps/capture/detail/taps.hpp"
#include "winkhold/taps/link/board_link.hpp"

#include <deque>
#include <memory>

namespace winkhold::taps::capture {

/// Lines as winkhold/link/line.hpp has them, perhaps behind the head "# winkhold link 2", from any byte of
/// the stream on. Taps are those of the line "edge" and of heartbeats. Lines that are damaged or missing, and
/// restarts of the board, are caveats: levels in between are taken to stay.
class LinkSource : public EdgeSource, private BoardListener {
public:
    LinkSource(std::string file, std::unique_ptr<InputFile> input, const RecordingOptions& options);

    /// By its first bytes.
    static bool is_one(std::string_view start);

    bool next(Edge& edge) override;
    TimeUs end_us() const override { return link_.now_us().value_or(last_us_); }
    std::vector<Caveat> caveats() const override;

private:
    void edge(TimeUs t_us, core::Lines lines) override;
    void heartbeat(TimeUs t_us, core::Lines lines, core::Indication shown) override;
    void counters(const BoardCounters& counters) override;
    void missing(std::int64_t lines) override;
    void restarted(TimeUs t_us) override;
    void levels(TimeUs t_us, core::Lines lines);
    bool refill();

    std::string file_;
    std::unique_ptr<InputFile> input_;
    TapRules rules_;
    std::vector<PlacedTap> taps_;
    BoardLink link_;

    std::deque<Edge> ready_;
    bool has_levels_{false};
    Lines lines_{};
    TimeUs last_us_{0};
    std::optional<BoardCounters> counted_;
    std::int64_t dropped_edges_{0};
    TimeUs first_dropped_us_{0};
    TimeUs first_missing_us_{0};
    TimeUs first_restart_us_{0};
};

} // namespace winkhold::taps::capture
