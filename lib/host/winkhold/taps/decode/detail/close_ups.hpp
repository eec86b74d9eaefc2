/// A closer look at the moments that matter: each side change and each dropout.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include <deque>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace winkhold::taps {

/// Keeps lines and answer of the last seconds and draws them around each such moment, so memory stays flat.
class CloseUps {
public:
    /// Before the indications up to that moment are told.
    void lines(const Edge& edge);
    void indication(TimeUs t_us, core::Indication indication);
    void finish(TimeUs end_us);
    /// A section of its own; nothing if there were none. The first twelve are drawn.
    void print(std::ostream& out) const;

private:
    struct State {
        TimeUs t_us{0};
        core::Lines lines{};
        core::Indication shown{};
    };
    struct Moment {
        TimeUs t_us;
        TimeUs last_us; ///< of those that share the picture
        std::string what;
    };

    void enter_edge();
    State& state_at(TimeUs t_us);
    void note(TimeUs t_us, std::string what);
    /// Draws what is pending if its picture is complete at `t_us`.
    void pass(TimeUs t_us);
    void draw(TimeUs end_us);

    std::optional<Edge> edge_; ///< told, but ahead of what is shown
    std::deque<State> recent_;
    core::Indication side_{};     ///< shown now, or last if nothing is
    TimeUs went_off_us_{-1};      ///< -1: something is shown, or nothing was yet
    std::vector<Moment> pending_; ///< none or one
    std::vector<std::string> drawn_;
    std::int64_t more_{0};
};

} // namespace winkhold::taps
