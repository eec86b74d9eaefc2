#include "live_terminal.hpp"

#include "winkhold/base/error.hpp"

#include <clocale>
#include <cstdio>
#include <cstdlib>
#include <curses.h>
#include <langinfo.h>
#include <string_view>
#include <sys/ioctl.h>
#include <unistd.h>

namespace winkhold::app {
namespace {

enum Pair : short { amber = 1, green, red };

attr_t attributes(host::Look look, bool has_colour) {
    const auto coloured = [=](Pair pair, attr_t without) {
        return has_colour ? static_cast<attr_t>(COLOR_PAIR(pair)) : without;
    };
    switch (look) {
    case host::Look::plain:
        return A_NORMAL;
    case host::Look::faint:
        return A_DIM;
    case host::Look::strong:
        return A_BOLD;
    case host::Look::lit:
        return coloured(amber, A_BOLD);
    case host::Look::good:
        return coloured(green, A_NORMAL);
    case host::Look::trouble:
        return coloured(red, A_BOLD);
    case host::Look::chosen:
        return A_REVERSE;
    }
    return A_NORMAL;
}

} // namespace

Terminal::Terminal() {
    std::setlocale(LC_CTYPE, "");
    utf8_ = std::string_view(nl_langinfo(CODESET)) == "UTF-8";
    if (newterm(nullptr, stdout, stdin) == nullptr)
        throw host::InputError("this terminal is not known (TERM); pipe the output through cat for plain "
                               "lines");
    cbreak();
    noecho();
    keypad(stdscr, TRUE);
    nodelay(stdscr, TRUE);
    set_escdelay(25);
    curs_set(0);
    colour_ = std::getenv("NO_COLOR") == nullptr && has_colors();
    if (colour_) {
        start_color();
        use_default_colors();
        init_pair(amber, COLOR_YELLOW, -1);
        init_pair(green, COLOR_GREEN, -1);
        init_pair(red, COLOR_RED, -1);
    }
}

Terminal::~Terminal() {
    endwin();
}

host::ScreenSize Terminal::size() const {
    return {static_cast<std::size_t>(COLS), static_cast<std::size_t>(LINES), utf8_};
}

void Terminal::resized() {
    winsize window{};
    if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) == 0 && window.ws_row > 0 && window.ws_col > 0)
        resizeterm(window.ws_row, window.ws_col);
    clear();
}

void Terminal::show(const host::Picture& picture) {
    erase();
    for (std::size_t row = 0; row < picture.size(); ++row) {
        move(static_cast<int>(row), 0);
        for (const host::Piece& piece : picture[row]) {
            attrset(static_cast<int>(attributes(piece.look, colour_)));
            addstr(piece.text.c_str());
        }
    }
    attrset(A_NORMAL);
    refresh();
}

std::optional<std::pair<host::Key, char>> Terminal::key() {
    using host::Key;
    while (true) {
        const int code = getch();
        switch (code) {
        case ERR:
            return std::nullopt;
        case KEY_UP:
            return std::pair{Key::up, '\0'};
        case KEY_DOWN:
            return std::pair{Key::down, '\0'};
        case KEY_LEFT:
            return std::pair{Key::left, '\0'};
        case KEY_RIGHT:
            return std::pair{Key::right, '\0'};
        case '\n':
        case '\r':
        case KEY_ENTER:
            return std::pair{Key::enter, '\0'};
        case 27:
            return std::pair{Key::escape, '\0'};
        case KEY_BACKSPACE:
        case 127:
        case '\b':
            return std::pair{Key::backspace, '\0'};
        default:
            if (code >= ' ' && code <= '~') return std::pair{Key::character, static_cast<char>(code)};
        }
    }
}

} // namespace winkhold::app
