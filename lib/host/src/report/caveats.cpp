#include "report/caveats.hpp"

#include <fmt/ostream.h>
#include <sstream>

namespace winkhold::host {
namespace {

// Words put into lines of `width`, each behind an indent.
void write_wrapped(std::ostream& out, const std::string& text, std::size_t indent, std::size_t width) {
    std::istringstream words(text);
    std::string line;
    for (std::string word; words >> word;) {
        if (!line.empty() && indent + line.size() + 1 + word.size() > width) {
            fmt::print(out, "{:>{}}{}\n", "", indent, line);
            line.clear();
        }
        line += (line.empty() ? "" : " ") + word;
    }
    fmt::print(out, "{:>{}}{}\n", "", indent, line);
}

} // namespace

void write_caveats_text(std::ostream& out, const std::vector<Caveat>& caveats) {
    if (caveats.empty()) return;
    fmt::print(out, "About this recording\n");
    for (const Caveat& caveat : caveats) {
        fmt::print(out, "{:>14.6f} s  {}", static_cast<double>(caveat.first_us) / 1e6, caveat.name);
        if (caveat.count > 1) fmt::print(out, ", first of {}", caveat.count);
        fmt::print(out, "\n");
        write_wrapped(out, caveat.text, 18, 80);
    }
    fmt::print(out, "\n");
}

void write_caveats_json(std::ostream& out, const std::vector<Caveat>& caveats) {
    const char* between = ",\n\"caveats\":[";
    for (const Caveat& caveat : caveats) {
        fmt::print(out, "{}\n{{\"caveat\":\"{}\",\"count\":{},\"first_us\":{},\"text\":\"{}\"}}", between,
                   caveat.name, caveat.count, caveat.first_us, caveat.text);
        between = ",";
    }
    if (!caveats.empty()) fmt::print(out, "]");
}

} // namespace winkhold::host
