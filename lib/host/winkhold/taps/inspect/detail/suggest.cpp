// Settings that suit what was seen, each with its reason.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/statistics/detail/quantiles.hpp"
#include "winkhold/taps/inspect/inspect.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::taps {
namespace {

TimeUs up_to_whole_ms(double us) {
    return static_cast<TimeUs>(std::ceil(us / 1e3)) * 1'000;
}

constexpr TimeUs longest_settle_us = 20'000; // worse than any contact in the survey; an old switch at most

Suggestion settle_for(const Inspection& seen) {
    TimeUs false_us = 0;
    for (const LineView& line : seen.lines) {
        false_us = std::max({false_us, line.rise.longest_false_us, line.fall.longest_false_us});
        // a few may be flashes that the rider cut short as they began
        const auto flashes = static_cast<std::int64_t>(line.lights.size());
        if (20 * line.pulses > flashes || (line.pulses > 2 && 50 * line.pulses > flashes))
            false_us = std::max(false_us, line.longest_glitch_us);
    }
    const TimeUs usual_us = core::Settings{}.settle_us;
    // a quarter for the bounce that was not recorded, half a millisecond for the input
    const TimeUs needed_us = up_to_whole_ms(1.25 * static_cast<double>(false_us) + 500);
    const std::string longest =
        fmt::format("the longest false level stood for {}", format_duration(false_us));
    if (needed_us > longest_settle_us)
        return {longest_settle_us,
                longest + "; no settle that is quick enough removes that, look at the wiring"};
    if (needed_us <= usual_us)
        return {usual_us, false_us == 0 ? "no bounce and no short pulses were seen; the default is enough"
                                        : longest + "; the default is enough"};
    return {needed_us, longest + ", a quarter more and 0.5 ms on top"};
}

Suggestion pwm_gap_for(const Inspection& seen) {
    TimeUs low_us = 0;
    for (const LineView& line : seen.lines)
        if (line.pwm && !line.dark_chopped) low_us = std::max(low_us, line.pwm->longest_low_us);
    if (low_us == 0) return {0, "the lights are not chopped"};
    return {std::min(unrest_us, up_to_whole_ms(1.5 * static_cast<double>(low_us))),
            fmt::format("the light is chopped, its longest pause is {}, half more on top",
                        format_duration(low_us))};
}

/// The longest dark gap to expect, from those of one line. With n gaps the quantile that the next one stays
/// below is mean + t(n-1) s sqrt(1 + 1/n); here at 1 - 1e-4.
struct LongestGap {
    double us{0};
    bool guessed{false};   ///< beyond the longest seen
    std::int64_t rests{0}; ///< longer ones, left out
    TimeUs longest_rest_us{0};
};

/// The gaps of the rhythm. One in twenty, or a single one, that is half as long again as the median is the
/// rider's rest between two requests, or a flash left out: no hold is to bridge it.
std::vector<TimeUs> without_rests(std::vector<TimeUs> gaps_us) {
    std::sort(gaps_us.begin(), gaps_us.end());
    const TimeUs usual_us = gaps_us[gaps_us.size() / 2] * 3 / 2;
    const auto rests = std::upper_bound(gaps_us.begin(), gaps_us.end(), usual_us);
    const auto most = std::max<std::ptrdiff_t>(1, std::ssize(gaps_us) / 20);
    if (gaps_us.end() - rests <= most) gaps_us.erase(rests, gaps_us.end());
    return gaps_us;
}

LongestGap longest_gap(const LineView& line) {
    const Lengths gaps = lengths_of(without_rests(line.dark_us));
    const auto n = static_cast<double>(gaps.count);
    double squares = 0;
    for (const TimeUs gap_us : line.dark_us)
        if (gap_us <= gaps.most_us) squares += std::pow(static_cast<double>(gap_us) - gaps.mean_us, 2);
    const double sigma_us = std::sqrt(squares / (n - 1));
    const double t = t_quantile(n - 1, 1 - 1e-4);
    const double expected_us = gaps.mean_us + t * sigma_us * std::sqrt(1 + 1 / n);
    const auto seen_us = static_cast<double>(gaps.most_us);
    return {std::max(expected_us, seen_us), expected_us > seen_us, line.dark.count - gaps.count,
            line.dark.most_us};
}

Suggestion hold_for(const Inspection& seen) {
    constexpr std::int64_t enough = 5;
    LongestGap longest;
    std::int64_t gaps = 0;
    TimeUs rise_settles_us = 0;
    for (const LineView& line : seen.lines) {
        rise_settles_us = std::max(rise_settles_us, line.rise.settling.most_us);
        gaps += line.dark.count;
        if (line.dark.count < enough) continue;
        const LongestGap gap = longest_gap(line);
        if (gap.us > longest.us) longest = gap;
    }
    const TimeUs usual_us = core::Settings{}.hold_us;
    if (longest.us == 0)
        return {usual_us,
                fmt::format("{} dark gap{} seen, it takes {} on one line; the default fits any bike", gaps,
                            gaps == 1 ? "" : "s", enough)};
    const auto late_us = static_cast<double>(rise_settles_us + seen.settle.us);
    const TimeUs hold_us = up_to_whole_ms(longest.us + late_us);
    std::string reason = fmt::format(
        "fixed rule: longest dark gap {} {:.0f} ms, and {:.0f} ms until the next rise has settled",
        longest.guessed ? "to expect once in 10000 gaps" : "seen", ms(longest.us), ms(late_us));
    if (longest.rests > 0)
        reason += fmt::format(
            "; {} longer one{}, up to {:.0f} ms, left out: rests between requests, or missed flashes",
            longest.rests, longest.rests == 1 ? "" : "s", ms(longest.longest_rest_us));
    if (hold_us > usual_us)
        return {usual_us, fmt::format("{}; that is more than the longest gap that counts as rhythm", reason)};
    return {hold_us, reason};
}

} // namespace

void suggest(Inspection& inspection) {
    inspection.settle = settle_for(inspection);
    inspection.pwm_gap = pwm_gap_for(inspection);
    inspection.hold = hold_for(inspection);
}

} // namespace winkhold::taps
