#include "winkhold/taps/decode/detail/caveats.hpp"

#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <fmt/ostream.h>

namespace winkhold::taps {
void write_caveats_text(std::ostream& out, const std::vector<Caveat>& caveats) {
    if (caveats.empty()) return;
    const std::string lead(18, ' ');
    fmt::print(out, "About this recording\n");
    for (const Caveat& caveat : caveats) {
        fmt::print(out, "{:>14.6f} s  {}", static_cast<double>(caveat.first_us) / 1e6, caveat.name);
        if (caveat.count > 1) fmt::print(out, ", first of {}", caveat.count);
        fmt::print(out, "\n");
        out << wrapped(lead, lead, caveat.text);
    }
    fmt::print(out, "\n");
}

void write_caveats_json(std::ostream& out, const std::vector<Caveat>& caveats) {
    const char* between = ",\n\"caveats\":[";
    for (const Caveat& caveat : caveats) {
        // a text may hold names of the file's
        fmt::print(out, "{}\n{{\"caveat\":\"{}\",\"count\":{},\"first_us\":{},\"text\":{}}}", between,
                   caveat.name, caveat.count, caveat.first_us, json_line(caveat.text));
        between = ",";
    }
    if (!caveats.empty()) fmt::print(out, "]");
}

} // namespace winkhold::taps
