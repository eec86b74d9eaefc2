#include "winkhold/live/screen/lines.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <fmt/format.h>

namespace winkhold::live {
namespace {

std::string moment(std::optional<TimeUs> t_us) {
    return t_us ? fmt::format("{:>9}.{:03} s  ", *t_us / 1'000'000, *t_us / 1'000 % 1'000)
                : std::string(17, ' ');
}

} // namespace

std::string taps_text(core::Lines lines) {
    using core::Lines;
    constexpr std::pair<Lines::Tap, std::string_view> taps[] = {{Lines::left, "left"},
                                                                {Lines::right, "right"},
                                                                {Lines::brake, "brake"},
                                                                {Lines::tail, "tail"},
                                                                {Lines::supply, "supply"}};
    std::string text;
    for (const auto& [tap, name] : taps)
        if (lines.has(tap)) text += fmt::format("{}{}", text.empty() ? "" : " ", name);
    return text.empty() ? "none lit" : text;
}

std::string edge_line(const Edge& edge) {
    return fmt::format("{}taps   {}\n", moment(edge.t_us), taps_text(edge.lines));
}

std::string indication_line(const IndicationChange& change) {
    return fmt::format("{}shows  {}\n", moment(change.t_us), name(change.indication));
}

std::string notice_lines(const Notice& notice) {
    return wrapped(moment(notice.t_us) + (notice.is_trouble ? "! " : ""), std::string(17, ' '), notice.text);
}

std::string health_lines(const LiveState& state) {
    const LinkHealth& link = state.health;
    std::string text =
        fmt::format("{} lines read, {} missing, {} damaged, {} twice, {} not understood, {} bytes of "
                    "something else, {} restarts",
                    link.lines, link.missing, link.damaged, link.doubled, link.not_understood,
                    link.stray_bytes, link.restarts);
    if (state.counters)
        text +=
            fmt::format("; the board dropped {} lines, {} of them edges, heard {} damaged, sampled {} times "
                        "too late",
                        state.counters->dropped_lines, state.counters->dropped_edges,
                        state.counters->damaged_lines, state.counters->late_samples);
    return wrapped("", "  ", text);
}

} // namespace winkhold::live
