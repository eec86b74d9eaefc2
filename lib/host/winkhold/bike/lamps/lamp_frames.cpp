#include "winkhold/bike/lamps/lamp_frames.hpp"

#include "winkhold/bike/lamps/detail/fill_watch.hpp"
#include "winkhold/taps/trace/replay.hpp"

namespace winkhold::bike {

struct LampPlayer::Playing {
    Playing(const core::Settings& settings, const LampPlan& plan)
        : groups(plan.groups()),
          replay(core::Board(settings, plan.timing, groups.data(), static_cast<std::uint8_t>(groups.size()))),
          watch(groups) {}

    void observe(TimeUs t_us, const core::Board& board) {
        next.clear();
        for (std::size_t i = 0; i < groups.size(); ++i)
            next.push_back(board.sequence().frame(static_cast<std::uint8_t>(i)));
        const core::Indication shown = board.decoder().indication();
        if (begun && shown == frame.shown && next == frame.groups) return;
        begun = true;
        frame.t_us = t_us;
        frame.shown = shown;
        frame.groups.swap(next);
        if (frame_listener) frame_listener(frame);
        watch.frame(frame, fill_listener);
    }

    const std::vector<core::LampGroup> groups; ///< the board points to them
    ReplayOf<core::Board> replay;
    FillWatch watch;
    LampFrame frame;
    std::vector<core::GroupFrame> next;
    bool begun{false};
    std::function<void(const LampFrame&)> frame_listener;
    std::function<void(const LampFill&)> fill_listener{[](const LampFill&) {}};
};

LampPlayer::LampPlayer(const core::Settings& settings, const LampPlan& plan)
    : playing_(std::make_unique<Playing>(settings, plan)) {}
LampPlayer::~LampPlayer() = default;
LampPlayer::LampPlayer(LampPlayer&&) noexcept = default;
LampPlayer& LampPlayer::operator=(LampPlayer&&) noexcept = default;

void LampPlayer::on_frame(std::function<void(const LampFrame&)> listener) {
    playing_->frame_listener = std::move(listener);
}

void LampPlayer::on_fill(std::function<void(const LampFill&)> listener) {
    playing_->fill_listener = std::move(listener);
}

void LampPlayer::feed(const Edge& edge) {
    playing_->replay.feed(edge,
                          [&](TimeUs t_us, const core::Board& board) { playing_->observe(t_us, board); });
}

void LampPlayer::finish(TimeUs end_us) {
    playing_->replay.finish(end_us,
                            [&](TimeUs t_us, const core::Board& board) { playing_->observe(t_us, board); });
    playing_->watch.finish(end_us, playing_->fill_listener);
}

LampFrames lamp_frames(const Trace& trace, const core::Settings& settings, const LampPlan& plan) {
    LampFrames played;
    LampPlayer feed(settings, plan);
    feed.on_frame([&](const LampFrame& frame) { played.frames.push_back(frame); });
    feed.on_fill([&](const LampFill& fill) { played.fills.push_back(fill); });
    for (const Edge& edge : trace.edges)
        feed.feed(edge);
    feed.finish(trace.end_us);
    played.end_us = trace.end_us;
    return played;
}

} // namespace winkhold::bike
