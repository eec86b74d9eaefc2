#include "winkhold/taps/decode/detail/close_ups.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/strip.hpp"
#include "winkhold/base/text/detail/text_out.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps {
namespace {

using core::Indication;

constexpr TimeUs around_us =
    1'485'000; // each way; 66 characters of 45 ms, half of the shortest flash (derived)
constexpr TimeUs together_us = 800'000;  // moments closer than that share a picture
constexpr TimeUs dropout_us = 1'000'000; // off for longer is a rest, as for the decoder's cadence
constexpr std::size_t most_pictures = 12;
constexpr std::size_t most_states = 1 << 16; // of a line that hums; then the picture begins later
constexpr std::size_t columns = 66;

double seconds(TimeUs us) {
    return static_cast<double>(us) / 1e6;
}

} // namespace

CloseUps::State& CloseUps::state_at(TimeUs t_us) {
    pass(t_us);
    if (recent_.empty() || recent_.back().t_us != t_us) {
        recent_.push_back(recent_.empty() ? State{} : recent_.back());
        recent_.back().t_us = t_us;
    }
    const TimeUs from_us = (pending_.empty() ? t_us : pending_.front().t_us) - around_us - dropout_us;
    while (recent_.size() > most_states || (recent_.size() > 1 && recent_[1].t_us <= from_us))
        recent_.pop_front();
    return recent_.back();
}

void CloseUps::lines(const Edge& edge) {
    enter_edge();
    edge_ = edge;
}

void CloseUps::enter_edge() {
    if (edge_) state_at(edge_->t_us).lines = edge_->lines;
    edge_.reset();
}

void CloseUps::indication(TimeUs t_us, Indication indication) {
    state_at(t_us).shown = indication;
    if (indication == Indication::off) {
        if (side_ != Indication::off) went_off_us_ = t_us;
        return;
    }
    const TimeUs off_for_us = went_off_us_ < 0 ? 0 : t_us - went_off_us_;
    if (went_off_us_ >= 0 && side_ == indication && off_for_us <= dropout_us)
        note(t_us - off_for_us,
             fmt::format("{} is off for {:.0f} ms", name(side_), static_cast<double>(off_for_us) / 1e3));
    else if (side_ != Indication::off && side_ != indication && off_for_us <= dropout_us)
        note(t_us, fmt::format("{} becomes {}", name(side_), name(indication)));
    side_ = indication;
    went_off_us_ = -1;
}

void CloseUps::note(TimeUs t_us, std::string what) {
    if (drawn_.size() == most_pictures) {
        ++more_;
        return;
    }
    if (!pending_.empty() && t_us - pending_.front().last_us < together_us) {
        pending_.front().last_us = t_us;
        pending_.front().what += "; " + what;
        return;
    }
    if (!pending_.empty()) draw(t_us);
    if (drawn_.size() == most_pictures)
        ++more_;
    else
        pending_.push_back({t_us, t_us, std::move(what)});
}

void CloseUps::pass(TimeUs t_us) {
    if (!pending_.empty() && t_us > pending_.front().t_us + around_us) draw(t_us);
}

void CloseUps::draw(TimeUs end_us) {
    const Moment moment = std::move(pending_.front());
    pending_.clear();
    const TimeUs from_us = std::max(moment.t_us - around_us, recent_.front().t_us);
    const TimeUs to_us = std::min(moment.t_us + around_us, end_us);
    if (to_us - from_us < static_cast<TimeUs>(columns)) return;
    Strip strips[4];
    for (const State& state : recent_) {
        if (state.t_us >= to_us) break;
        const TimeUs since_us = std::max<TimeUs>(0, state.t_us - from_us);
        for (const core::Side side : core::both_sides) {
            const auto i = static_cast<std::size_t>(side);
            strips[i].level(since_us, state.lines.has(side));
            strips[2 + i].level(since_us, core::shows(state.shown, side));
        }
    }
    std::string text =
        wrapped(fmt::format("{:>14.6f} s  ", seconds(moment.t_us)), std::string(18, ' '), moment.what);
    const char* const labels[] = {"line left", "line right", "shown left", "shown right"};
    for (std::size_t i = 0; i < 4; ++i)
        text += fmt::format("{:>12} {}\n", labels[i], strips[i].draw(0, to_us - from_us, columns));
    text += fmt::format("{:>12} {:.3f} s to {:.3f} s, {:.3g} ms each\n", "", seconds(from_us), seconds(to_us),
                        static_cast<double>(to_us - from_us) / 1e3 / static_cast<double>(columns));
    drawn_.push_back(std::move(text));
}

void CloseUps::finish(TimeUs end_us) {
    enter_edge();
    pass(end_us);
    if (!pending_.empty()) draw(end_us);
}

void CloseUps::print(std::ostream& out) const {
    if (drawn_.empty()) return;
    print_to(out, "Side changes and dropouts, close up\n");
    for (const std::string& picture : drawn_)
        print_to(out, "{}\n", picture);
    if (more_ > 0) print_to(out, "{:>16}  and {} more\n\n", "", more_);
}

} // namespace winkhold::taps
