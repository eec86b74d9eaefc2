/// A terminal as a screen and a keyboard.
#pragma once

#include "winkhold/live/screen/desk.hpp"

#include <optional>
#include <utility>

namespace winkhold::app {

/// Takes the terminal over until it goes. Colours unless the terminal has none, or NO_COLOR is set; blocks
/// unless it is not in UTF-8. One at a time.
class Terminal {
public:
    /// Throws host::InputError: a terminal that nobody knows.
    Terminal();
    ~Terminal();
    Terminal(const Terminal&) = delete;
    Terminal& operator=(const Terminal&) = delete;

    host::ScreenSize size() const;
    /// The window has another size.
    void resized();
    void show(const host::Picture& picture);
    /// The next key that waits.
    std::optional<std::pair<host::Key, char>> key();

private:
    bool utf8_{false};
    bool colour_{false};
};

} // namespace winkhold::app
