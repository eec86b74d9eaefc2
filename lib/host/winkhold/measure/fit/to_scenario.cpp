// The fit as a scenario.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/measure/fit/report.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::measure {
namespace {

// what a scenario takes
constexpr Range rates{10, 600};
constexpr Range duties{1, 99};
constexpr double most_jitter_percent = 30;

double within(const Range& limits, double value) {
    return std::clamp(value, limits.least, limits.most);
}

std::string duration_text(double us) {
    const auto whole_us = static_cast<TimeUs>(std::max(0.0, std::round(us)));
    return whole_us % 1'000 == 0 ? fmt::format("\"{}ms\"", whole_us / 1'000)
                                 : fmt::format("\"{}us\"", whole_us);
}

class SceneWriter {
public:
    explicit SceneWriter(Unsure unsure) : unsure_(unsure) {}

    void section(const char* name) {
        text += fmt::format("\n[{}]\n", name);
        section_ = name;
    }
    void line(const char* field, const std::string& value, const std::string& comment = {}) {
        const std::string assigned = fmt::format("{} = {}", field, value);
        edits.push_back({section_, field, value});
        text += comment.empty() ? assigned + "\n" : fmt::format("{:<40} # {}\n", assigned, comment);
    }
    /// A figure that may be a range.
    void range(const char* field, const Estimate& e, const Range& limits, double scale = 1) {
        const auto number = [&](double value) {
            return fmt::format("{:.6g}", within(limits, value * scale));
        };
        line(field,
             unsure_ == Unsure::cautious ? fmt::format("[{}, {}]", number(e.low), number(e.high))
                                         : number(e.value),
             interval(e, scale, ""));
    }
    static std::string interval(const Estimate& e, double scale, const char* unit) {
        return fmt::format("95 %: {:.6g} to {:.6g}{}", e.low * scale, e.high * scale, unit);
    }

    std::string text;
    std::vector<FieldEdit> edits; ///< the same lines, without comments

private:
    Unsure unsure_;
    std::string section_;
};

std::string cycle_of(const OtherRhythm& quick, const RhythmFit& slow) {
    const auto cycle = [](const RhythmFit& rhythm) {
        return fmt::format("{}, {}", duration_text(rhythm.on_us.value), duration_text(rhythm.dark_us.value));
    };
    std::string text = "[";
    for (int i = 1; i < quick.group_size; ++i)
        text += cycle(quick.rhythm) + ", ";
    return text + cycle(slow) + "]";
}

void write_flasher(SceneWriter& out, const BikeFit& fit, bool cautious) {
    const RhythmFit& r = fit.rhythm;
    // the rate holds in the middle of the recording; a scenario's at its start
    const double drift = r.drifts ? r.drift_percent_per_min.value : 0;
    const double from_start = 1 / (1 - drift / 100 * r.at_min);
    out.section("flasher");
    const bool grouped = fit.other && fit.other->group_size > 0;
    if (grouped) {
        out.text += "# flashes come in groups; this has no ranges\n";
        out.line("cycle", cycle_of(*fit.other, r));
    } else {
        out.range("rate_per_min", r.rate_per_min, rates, from_start);
        out.range("duty_percent", r.duty_percent, duties);
    }
    out.line("jitter_percent",
             fmt::format("{:.4g}", std::min(most_jitter_percent,
                                            cautious ? r.jitter_percent.high : r.jitter_percent.value)),
             SceneWriter::interval(r.jitter_percent, 1, ""));
    if (r.drifts)
        out.line("drift_percent_per_min", fmt::format("{:.4g}", std::clamp(drift * from_start, -50.0, 50.0)),
                 SceneWriter::interval(r.drift_percent_per_min, 1, ""));
    if (fit.missing > 0)
        out.line("missing_flash_percent",
                 fmt::format("{:.4g}", std::min(50.0, cautious ? fit.missing_flash_percent.high
                                                               : fit.missing_flash_percent.value)),
                 SceneWriter::interval(fit.missing_flash_percent, 1, ""));
    if (fit.first_on_extra_us)
        out.line("first_on_extra",
                 fmt::format("[{}, {}]", duration_text(fit.first_on_extra_us->low),
                             duration_text(fit.first_on_extra_us->high)),
                 "as seen");
    const SideChangeFit& change = fit.side_change;
    if (change.model)
        out.line("side_change", fmt::format("\"{}\"", name(*change.model)),
                 fmt::format("from {} recorded", change.changes));
    else
        out.text += "# side_change is unknown: sweep \"free-running\" and \"whole-cycle\", too\n";
    if (fit.other && fit.other->lamp_out) {
        const RhythmFit& quick = fit.other->rhythm;
        out.text += "# a lamp was out for a while; to try that, set lamp_out_after_flashes\n";
        out.line("lamp_out_rate_factor",
                 fmt::format("{:.4g}", within({0.2, 5}, quick.rate_per_min.value / r.rate_per_min.value)));
        out.line("lamp_out_duty_percent", fmt::format("{:.4g}", within(duties, quick.duty_percent.value)));
    } else if (fit.other && !grouped) {
        const RhythmFit& quick = fit.other->rhythm;
        out.text += fmt::format("# a second rhythm is not in this scenario: {:.2f} ms lit, {:.2f} ms dark\n",
                                quick.on_us.value / 1e3, quick.dark_us.value / 1e3);
    }
}

void write_lines(SceneWriter& out, const BikeFit& fit, bool cautious) {
    out.section("lines");
    const Estimate& bounce = fit.bounce.bounce_us;
    // a scenario's contacts bounce no longer than 100 ms
    if (fit.bounce.rises > 0)
        out.line("bounce", duration_text(std::min(100e3, cautious ? bounce.high : bounce.value)),
                 SceneWriter::interval(bounce, 1e-3, " ms"));
    if (fit.bounce.pulses.value > 0)
        out.line("bounce_pulses", fmt::format("{:.0f}", std::min(20.0, cautious ? fit.bounce.pulses.high
                                                                                : fit.bounce.pulses.value)));
    const auto skew = [&](const char* field, const std::optional<SkewFit>& seen) {
        if (!seen) return;
        const double least_us = std::max(0.0, seen->least_us.value);
        const double most_us = std::max(least_us, cautious ? seen->most_us.high : seen->most_us.value);
        out.line(field,
                 fmt::format("[{}, {}]", duration_text(least_us), duration_text(std::min(most_us, 500e3))),
                 "most, " + SceneWriter::interval(seen->most_us, 1e-3, " ms"));
    };
    skew("rise_skew", fit.rise_skew);
    skew("fall_skew", fit.fall_skew);
    for (const LineView& line : fit.seen.lines)
        if (line.pwm && !line.dark_chopped) {
            out.line("pwm_hz", fmt::format("{:.5g}", std::min(line.pwm->hz, 25e3)));
            out.line("pwm_percent", fmt::format("{:.4g}", within({1, 100}, line.pwm->duty_percent)));
            break;
        }
}

} // namespace

std::string fit_scenario(const BikeFit& fit, const std::string& title, Unsure unsure) {
    const bool cautious = unsure == Unsure::cautious;
    SceneWriter out(unsure);
    out.text =
        fmt::format("# Fitted to a recording: {} on and {} dark times, {} bright-phase runs.\n"
                    "# {}; the ride is a general one.\n",
                    fit.rhythm.on_count, fit.rhythm.dark_count, fit.bursts,
                    cautious ? "What is not quite known is drawn from its 95 % interval, or taken at its "
                               "worse end"
                             : "The likeliest values, with their 95 % intervals");
    out.section("vehicle");
    std::string safe;
    for (const char c : title)
        safe += c == '"' || c == '\\' || static_cast<unsigned char>(c) < ' ' ? '_' : c;
    out.line("name", fmt::format("\"{}\"", safe));
    write_flasher(out, fit, cautious);
    write_lines(out, fit, cautious);
    out.section("rider");
    const SideChangeFit& change = fit.side_change;
    if (change.cut > 0)
        out.line(
            "transit",
            fmt::format("[{}, {}]", duration_text(change.dark_least_us), duration_text(change.dark_most_us)),
            "start delay included");
    else
        out.line("transit", "\"70ms\"", "unknown; common practice");
    out.text += R"(script = [
    { show = "off", for = "500ms" },
    { show = "left", flashes = [4, 9] },
    { show = "right", flashes = [4, 9] },
    { show = "off", for = "2s" },
    { show = "hazard", flashes = [4, 6] },
    { show = "off", for = "2s" },
    { show = "right", flashes = [4, 9] },
    { show = "off", for = "2s" },
]
)";
    out.section("decoder");
    out.line("settle", duration_text(static_cast<double>(fit.seen.settle.us)), fit.seen.settle.reason);
    if (fit.seen.pwm_gap.us > 0)
        out.line("pwm_gap", duration_text(static_cast<double>(fit.seen.pwm_gap.us)), fit.seen.pwm_gap.reason);
    return out.text;
}

std::vector<FieldEdit> fit_edits(const BikeFit& fit, Unsure unsure) {
    SceneWriter out(unsure);
    write_flasher(out, fit, unsure == Unsure::cautious);
    write_lines(out, fit, unsure == Unsure::cautious);
    const bool grouped = fit.other && fit.other->group_size > 0;
    for (const char* other : {"cycle", "rate_per_min", "duty_percent"}) // one way to say it, or the other
        if ((std::string_view(other) == "cycle") != grouped) out.edits.push_back({"flasher", other, ""});
    return out.edits;
}

} // namespace winkhold::measure
