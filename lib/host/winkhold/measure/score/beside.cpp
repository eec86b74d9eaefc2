#include "winkhold/measure/score/beside.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/settings_text.hpp"
#include "winkhold/measure/score/plain_hold.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

constexpr TimeUs drawn_us = 2'970'000;    // 66 characters of 45 ms, as the close-ups of `decode`
constexpr TimeUs ahead_us = drawn_us / 2; // of a change of sides: as much as after it
constexpr TimeUs before_light_us = 270'000;

/// Where the picture begins that shows most: a side becomes the other one, or else the first light.
TimeUs worth_a_look_us(const std::vector<Request>& requests) {
    const auto single = [](const Request& r) { return r.show != core::Indication::hazard; };
    for (std::size_t i = 1; i < requests.size(); ++i) {
        const Request& before = requests[i - 1];
        const Request& now = requests[i];
        if (single(before) && single(now) && before.show != now.show && before.flashes > 1 &&
            now.flashes > 1 && now.start_us - before.end_us < core::built_in::longest_gap_us)
            return now.start_us - ahead_us;
    }
    return requests.empty() ? 0 : requests.front().first_light_us - before_light_us;
}

BesideAnswer answer_of(std::string label, const Trace& trace, const Truth& truth,
                       const core::Settings& settings) {
    check_settings(settings);
    BesideAnswer answer{std::move(label), decode(trace, settings), {}};
    score(truth, answer.timeline, answer.figures);
    return answer;
}

} // namespace

Beside decode_beside(EdgeSource& source, const core::Settings& settings, const BesidePlan& plan) {
    Beside beside;
    beside.trace = read_all(source);
    const Trace& trace = beside.trace;
    Phases phases;
    find_phases(trace, settings, phases);
    const Truth truth = infer_truth(phases, trace.end_us);
    const TimeUs begin_us = trace.edges.empty() ? 0 : trace.edges.front().t_us;
    beside.from_us = plan.from_us.value_or(std::max(begin_us, worth_a_look_us(truth.requests)));
    beside.to_us = std::min(beside.from_us + plan.for_us.value_or(drawn_us), trace.end_us);
    if (beside.to_us - beside.from_us < 1'000)
        throw InputError(
            fmt::format("nothing to draw from {:.3f} s on: the recording ends at {:.3f} s, and less "
                        "than 1 ms can't be drawn; give another --from or --for",
                        static_cast<double>(beside.from_us) / 1e6, static_cast<double>(trace.end_us) / 1e6));
    for (const TimeUs hold_us : plan.holds_us) {
        core::Settings plain = plain_hold(hold_us);
        plain.settle_us = settings.settle_us;
        plain.pwm_gap_us = settings.pwm_gap_us;
        beside.answers.push_back(
            answer_of(fmt::format("a plain hold of {}", format_duration(hold_us)), trace, truth, plain));
    }
    beside.answers.push_back(answer_of("Winkhold", trace, truth, settings));
    beside.flashes = beside.answers.back().figures.flashes;
    return beside;
}

} // namespace winkhold::measure
