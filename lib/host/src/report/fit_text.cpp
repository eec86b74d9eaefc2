// The fit for people.
#include "numbers.hpp"
#include "report/wrapped.hpp"
#include "winkhold/host/report/fit_report.hpp"
#include "winkhold/host/report/names.hpp"

namespace winkhold::host {
namespace {

constexpr std::size_t width = 80;

std::string row(const char* what, const Estimate& e, const char* unit, int digits, double scale = 1) {
    const auto number = [&](double value) { return fmt::format("{:.{}f}", value / scale, digits); };
    return fmt::format("  {:<20} {:>9}  {:>9} to {:<9} {}\n", what, number(e.value), number(e.low),
                       number(e.high), unit);
}

std::string rhythm_text(const RhythmFit& r) {
    std::string text = row("period", r.period_us, "ms", 2, 1e3);
    text += row("flash rate", r.rate_per_min, "a minute", 2);
    text += row("on time", r.on_us, "ms", 2, 1e3);
    text += row("dark time", r.dark_us, "ms", 2, 1e3);
    text += row("lit", r.duty_percent, "% of the period", 2);
    text += row("jitter", r.jitter_percent, "% of each phase", 2);
    if (r.drift_percent_per_min.width() < 200)
        text += row("drift of the period", r.drift_percent_per_min,
                    r.drifts ? "% a minute" : "% a minute: none proven", 2);
    return text;
}

std::string skew_text(const char* what, const SkewFit& skew) {
    return row(fmt::format("{} skew, least", what).c_str(), skew.least_us, "ms", 2, 1e3) +
           row(fmt::format("{} skew, most", what).c_str(), skew.most_us, "ms", 2, 1e3);
}

std::string other_text(const OtherRhythm& other) {
    const char* const what = other.lamp_out      ? "A quicker rhythm in one stretch, as with a lamp out"
                             : other.interleaved ? "A quicker rhythm in between: flashes come in groups"
                                                 : "A quicker rhythm";
    const std::string size = other.group_size > 0 ? fmt::format(" of {}", other.group_size) : "";
    return fmt::format("\n{}{} ({} on, {} dark times)\n", what, size, other.rhythm.on_count,
                       other.rhythm.dark_count) +
           rhythm_text(other.rhythm);
}

std::string side_change_text(const SideChangeFit& fit) {
    const std::string model = fit.model ? std::string(name(*fit.model)) : "unknown";
    std::string text = fmt::format("  {:<20} {}, from {} recorded\n", "on a side change", model, fit.changes);
    if (fit.cut > 0)
        text += fmt::format("  {:<20} {:.2f} to {:.2f} ms, from {} cut lights\n", "switch travel",
                            ms(fit.dark_least_us), ms(fit.dark_most_us), fit.cut);
    return text;
}

} // namespace

std::string fit_text(const BikeFit& fit, const std::string& title) {
    std::string text = fmt::format("{}: {} whole on times and {} dark times in {} runs", title,
                                   fit.rhythm.on_count, fit.rhythm.dark_count, fit.bursts);
    if (fit.rhythm.odd > 0) text += fmt::format(", {} more fit no rhythm", fit.rhythm.odd);
    text += fmt::format("\n\n  {:<20} {:>9}  {:^22}\n", "", "likeliest", "95 % interval");
    text += rhythm_text(fit.rhythm);
    text += row("flashes left out", fit.missing_flash_percent, "%", 2);
    if (fit.bounce.bounce_us.value > 0) {
        text += row("bounce on closing", fit.bounce.bounce_us, "ms", 2, 1e3);
        text += row("false pulses", fit.bounce.pulses, "at most", 0);
    }
    if (fit.rise_skew) text += skew_text("rise", *fit.rise_skew);
    if (fit.fall_skew) text += skew_text("fall", *fit.fall_skew);
    if (fit.first_on_extra_us) text += row("first light longer", *fit.first_on_extra_us, "ms", 1, 1e3);
    text += side_change_text(fit.side_change);
    if (fit.other) text += other_text(*fit.other);
    text += "\nNot known\n";
    for (const std::string& question : open_questions(fit))
        text += wrapped("- ", "  ", question, width);
    return text + "\n" + std::string(caution);
}

} // namespace winkhold::host
