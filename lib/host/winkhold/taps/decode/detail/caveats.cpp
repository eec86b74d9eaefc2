#include "winkhold/taps/decode/detail/caveats.hpp"

#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/text/detail/text_out.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

namespace winkhold::taps {
void write_caveats_text(std::ostream& out, const std::vector<Caveat>& caveats) {
    if (caveats.empty()) return;
    const std::string lead(18, ' ');
    print_to(out, "About this recording\n");
    for (const Caveat& caveat : caveats) {
        print_to(out, "{:>14.6f} s  {}", static_cast<double>(caveat.first_us) / 1e6, caveat.name);
        if (caveat.count > 1) print_to(out, ", first of {}", caveat.count);
        print_to(out, "\n");
        out << wrapped(lead, lead, caveat.text);
    }
    print_to(out, "\n");
}

void write_caveats_json(std::ostream& out, const std::vector<Caveat>& caveats) {
    const char* between = ",\n\"caveats\":[";
    for (const Caveat& caveat : caveats) {
        // a text may hold names of the file's
        print_to(out, "{}\n{{\"caveat\":\"{}\",\"count\":{},\"first_us\":{},\"text\":{}}}", between,
                 caveat.name, caveat.count, caveat.first_us, json_line(caveat.text));
        between = ",";
    }
    if (!caveats.empty()) print_to(out, "]");
}

} // namespace winkhold::taps
