#include "reference/decode.hpp"

#include "reference/verdicts.hpp"

#include <algorithm>
#include <set>

namespace winkhold::reference {
namespace {

/// From `from_us` to before `to_us`.
struct Span {
    TimeUs from_us{0};
    TimeUs to_us{0};
};

/// The first moment at which a side that has risen at `rise_us` is let go.
TimeUs first_let_go_us(const std::vector<LetGo>& ends, TimeUs rise_us) {
    TimeUs first_us = never_us;
    for (const LetGo& end : ends)
        if (end.t_us > rise_us || (end.t_us == rise_us && end.order != Order::falls))
            first_us = std::min(first_us, end.t_us);
    return first_us;
}

/// Each rise shows its side until the hold after the fall ends, the side is let go, or it rises anew.
std::vector<Span> held(const std::vector<Flash>& flashes, const Verdicts& verdicts) {
    std::vector<Piece> pieces;
    for (const Flash& flash : flashes)
        pieces.insert(pieces.end(), flash.pieces.begin(), flash.pieces.end());
    std::vector<Span> spans;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const OnPhase& phase = pieces[i].phase;
        const TimeUs silence_us = std::max(phase.fall_us, phase.last_high_us + pieces[i].hold_us);
        const TimeUs next_rise_us = i + 1 < pieces.size() ? pieces[i + 1].phase.rise_us : never_us;
        spans.push_back({phase.rise_us, std::min({silence_us, next_rise_us,
                                                  first_let_go_us(verdicts.let_go, phase.rise_us)})});
    }
    return spans;
}

bool any_covers(const std::vector<Span>& spans, TimeUs t_us) {
    return std::any_of(spans.begin(), spans.end(),
                       [&](const Span& span) { return span.from_us <= t_us && t_us < span.to_us; });
}

} // namespace

std::vector<Answer> decode(const host::Trace& trace, const core::Settings& settings) {
    if (trace.edges.empty()) return {};
    const auto supply = stretches(trace, core::Lines::supply);
    BothFlashes both;
    for (std::size_t side : {0, 1})
        both[side] =
            flashes(settled(stretches(trace, side == 0 ? core::Lines::left : core::Lines::right), settings),
                    supply, settings);
    const std::array<Verdicts, 2> judged = verdicts(both, supply, settings);

    std::array<std::vector<Span>, 2> shown;
    std::array<std::vector<Span>, 2> hidden;
    std::set<TimeUs> moments{trace.edges.front().t_us};
    for (std::size_t side : {0, 1}) {
        shown[side] = held(both[side], judged[side]);
        for (const Hidden& span : judged[side].hidden)
            hidden[side].push_back({span.from_us, span.to_us});
        for (const auto& spans : {shown[side], hidden[side]})
            for (const Span& span : spans) {
                moments.insert(span.from_us);
                moments.insert(span.to_us);
            }
    }
    std::vector<Answer> answers;
    for (const TimeUs t_us : moments) {
        if (t_us > trace.end_us) break;
        unsigned mask = 0;
        for (std::size_t side : {0, 1})
            if (any_covers(shown[side], t_us) && !any_covers(hidden[side], t_us)) mask |= 1u << side;
        const auto now = static_cast<core::Indication>(mask);
        if (answers.empty() || answers.back().second != now) answers.emplace_back(t_us, now);
    }
    return answers;
}

} // namespace winkhold::reference
