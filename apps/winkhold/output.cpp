#include "output.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/joined.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <iostream>
#include <sys/stat.h>
#include <unistd.h>

namespace winkhold::app {
namespace {

bool is_live(const std::string& input) {
    struct stat about {};
    const bool known = input == "-" ? fstat(STDIN_FILENO, &about) == 0 : stat(input.c_str(), &about) == 0;
    return known && !S_ISREG(about.st_mode);
}

} // namespace

void Force::add_to(Command& command) {
    command.flag("--force", force_, "replace a file that is there already");
}

Output::Output(const std::string& path, bool replace) {
    if (path != "-") file_ = std::make_unique<host::OutputFile>(path, replace);
}

Output::Output(When when) {
    if (when == When::at_finish)
        held_ = std::make_unique<host::PutAside>();
    else
        std::cout << std::unitbuf;
}

Output::~Output() = default;

std::ostream& Output::stream() {
    return file_ ? file_->stream() : held_ ? held_->stream() : std::cout;
}

void Output::finish() {
    if (file_) return file_->finish();
    if (held_) held_->write_to(std::cout);
    std::cout.flush();
    if (!std::cout)
        throw host::InputError(host::at_line("standard output", 0, "writing failed; is the disk full?"));
}

void Output::write(const std::string& path, bool replace, std::string_view text) {
    Output out(path, replace);
    out.stream() << text;
    out.finish();
}

void Output::print(std::string_view text) {
    write("-", false, text);
}

Output output_beside(const std::string& input) {
    return Output(is_live(input) ? Output::When::live : Output::When::at_finish);
}

void tell_edited(const std::string& path, const std::string& difference) {
    if (difference.empty())
        fmt::print(stderr, "{}: says all of that already; nothing changed\n", path);
    else
        fmt::print(stderr, "Changed in {}:\n{}", path, difference);
}

void check_ending(std::string_view option, const std::string& out,
                  std::initializer_list<std::string_view> endings) {
    if (std::none_of(endings.begin(), endings.end(),
                     [&](std::string_view end) { return out.ends_with(end); }))
        throw host::InputError(fmt::format("{} {}: the name must end in {}, which says the format", option,
                                           out, host::joined(endings, " or ")));
}

} // namespace winkhold::app
