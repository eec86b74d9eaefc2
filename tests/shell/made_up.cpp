/// Prints page or completion of commands whose texts are hostile to roff and to shells. Usage: made_up
/// man|bash|zsh|fish
#include "completion.hpp"
#include "man_page.hpp"

#include <cstdio>

namespace {

constexpr const char* hostile =
    R"(.so /etc/passwd is how "it's" [begun]: 'a \fB `touch pwned` $(touch pwned) $HOME)"
    R"( {x,y} %n ~ ^ # | ; & > pwned * ? \)";

winkhold::app::Command made_up(const std::string& name, std::string& text, bool& flag) {
    winkhold::app::Command command;
    command.name = name;
    command.summary = hostile;
    command.argument("FILE", text, hostile);
    command.flag("--plain", flag, hostile).excludes = {"--none"};
    command.text("--none", "a\\b-c", text, "'quoted\nin two lines").shown_as_default(hostile);
    command.word("--word",
                 {"it's", "\"two\"", "$(touch pwned)", "`touch pwned`", "x:y", "[z]", "\\n", "{a,b}", "*",
                  "$HOME", "~", "a b", "#", ";", "-x", "%d"},
                 text, ".dotted");
    command.notes = ".TH evil\n'in a line of its own\n\\&";
    command.example_for = hostile;
    command.example = {".example \\n 'x'", "'second"};
    return command;
}

} // namespace

int main(int, char** argv) {
    std::string text;
    bool flag = false;
    const std::vector<winkhold::app::Command> commands{made_up("odd", text, flag),
                                                       made_up("prove it", text, flag)};
    const std::string what = argv[1];
    const std::string out = what == "man" ? winkhold::app::man_page(commands, "1.\"2")
                                          : winkhold::app::completion(commands, what);
    std::fputs(out.c_str(), stdout);
}
