#include "output.hpp"

#include "winkhold/base/error.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <fstream>
#include <iostream>

namespace winkhold::app {

Output::Output(const std::string& path) : path_(path) {
    if (path == "-") return;
    file_ = std::make_unique<std::ofstream>(path, std::ios::binary);
    if (!*file_) throw host::InputError(host::at_line(path, 0, "can't be written; does its folder exist?"));
}

Output::~Output() = default;

std::ostream& Output::stream() {
    return file_ ? *file_ : std::cout;
}

void Output::finish() {
    stream().flush();
    if (!stream())
        throw host::InputError(
            host::at_line(path_ == "-" ? "standard output" : path_, 0, "writing failed; is the disk full?"));
}

void Output::write(const std::string& path, std::string_view text) {
    Output out(path);
    out.stream() << text;
    out.finish();
}

void check_ending(std::string_view option, const std::string& out,
                  std::initializer_list<std::string_view> endings) {
    if (std::none_of(endings.begin(), endings.end(),
                     [&](std::string_view end) { return out.ends_with(end); }))
        throw host::InputError(fmt::format("{} {}: the name must end in {}, which says the format", option,
                                           out, fmt::join(endings, " or ")));
}

void check_keeps(std::string_view option, const std::string& out, const std::string& input,
                 std::string_view what) {
    std::error_code error;
    if (std::filesystem::equivalent(out, input, error))
        throw host::InputError(fmt::format("{} would write over the {}; choose another name", option, what));
}

} // namespace winkhold::app
