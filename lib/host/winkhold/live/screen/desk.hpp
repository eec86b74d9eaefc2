/// What somebody at the screen is about: keys in, a picture out. Knows no terminal.
#pragma once

#include "winkhold/live/screen/picture.hpp"
#include "winkhold/live/session/session.hpp"
#include "winkhold/taps/link/board_log.hpp"

#include <deque>
#include <optional>
#include <string>

namespace winkhold::live {

/// A key that was pressed: a character, or one of these.
enum class Key : std::uint8_t { character, up, down, left, right, enter, escape, backspace };

/// One desk for one session. Listens to it, so it must not outlive it.
class Desk {
public:
    /// `port` as it was given, `log` if something is recorded from the start; `replace` as BoardLog has it.
    Desk(Session& session, std::string port, std::optional<std::string> log, bool replace);

    /// Bytes from the port, for the recording.
    void came(std::string_view bytes, TimeUs clock_us);
    /// A key was pressed; `character` for Key::character.
    void key(Key key, char character = '\0');
    /// Somebody wants to leave.
    bool is_done() const { return is_done_; }

    /// What stands on a screen of that size now.
    Picture draw(const ScreenSize& size, TimeUs clock_us);

private:
    enum class Asks : std::uint8_t { nothing, note, store, forget, lamp };

    void settings_came();
    void undo();
    void command(char character);
    void answer_question(Key key, char character);
    void change(int steps);
    void record();
    void say(std::string text, bool is_trouble = false);
    void say_why(const std::optional<std::string>& why, std::string_view done);
    core::Settings in_force() const;

    void draw_head(Picture& picture, const ScreenSize& size) const;
    void draw_strips(Picture& picture, const ScreenSize& size);
    void draw_figures(Picture& picture) const;
    void draw_settings(Picture& picture) const;
    void draw_foot(Picture& picture, const ScreenSize& size) const;

    Session& session_;
    std::string port_;
    std::optional<BoardLog> log_;
    std::size_t chosen_{0};                   ///< of named_settings
    std::optional<core::Settings> candidate_; ///< changed here, not yet tried
    bool whole_minute_{false};
    Asks asks_{Asks::nothing};
    std::string typed_;
    TimeUs marked_us_{0};
    bool is_done_{false};
    std::deque<Notice> notices_;

    /// What the candidate makes of the taps, and what they were when that was worked out.
    struct WhatIf {
        Timeline with_candidate;
        std::string summary;
        TimeUs at_us;
    };
    std::optional<WhatIf> what_if_;
    TimeUs clock_us_{0};
    TimeUs heard_clock_us_{0};
};

} // namespace winkhold::live
