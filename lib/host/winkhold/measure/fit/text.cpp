// The fit for people.
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/fit/report.hpp"

namespace winkhold::measure {
namespace {

void add_row(Table& table, const std::string& what, const Estimate& e, const char* unit, int digits,
             double scale = 1) {
    const auto number = [&](double value) { return fmt::format("{:.{}f}", value / scale, digits); };
    table.rows.push_back({what, number(e.value), number(e.low), number(e.high), unit});
}

void add_rhythm(Table& table, const RhythmFit& r) {
    add_row(table, "period", r.period_us, "ms", 2, 1e3);
    add_row(table, "flash rate", r.rate_per_min, "a minute", 2);
    add_row(table, "on time", r.on_us, "ms", 2, 1e3);
    add_row(table, "dark time", r.dark_us, "ms", 2, 1e3);
    add_row(table, "lit", r.duty_percent, "% of the period", 2);
    add_row(table, "jitter", r.jitter_percent, "% of each phase", 2);
    if (r.drift_percent_per_min.width() < 200)
        add_row(table, "drift of the period", r.drift_percent_per_min,
                r.drifts ? "% a minute" : "% a minute: none proven", 2);
}

void add_skew(Table& table, const std::string& what, const SkewFit& skew) {
    add_row(table, what + " skew, least", skew.least_us, "ms", 2, 1e3);
    add_row(table, what + " skew, most", skew.most_us, "ms", 2, 1e3);
}

std::string other_title(const OtherRhythm& other) {
    const char* const what = other.lamp_out         ? "A quicker rhythm in one stretch, as with a lamp out"
                             : other.group_size > 0 ? "A quicker rhythm in between: flashes come in groups"
                             : other.interleaved    ? "A quicker rhythm in between"
                                                    : "A quicker rhythm";
    return fmt::format("{}{} ({} on, {} dark times)", what,
                       other.group_size > 0 ? fmt::format(" of {}", other.group_size) : "",
                       other.rhythm.on_count, other.rhythm.dark_count);
}

Table estimates(const BikeFit& fit) {
    constexpr Align right = Align::right;
    Table table{
        {"", {"likeliest", right}, {"from", right, "95 % interval"}, {"to", right, "95 % interval"}, ""}};
    add_rhythm(table, fit.rhythm);
    add_row(table, "flashes left out", fit.missing_flash_percent, "%", 2);
    if (fit.bounce.bounce_us.value > 0) {
        add_row(table, "bounce on closing", fit.bounce.bounce_us, "ms", 2, 1e3);
        add_row(table, "false pulses", fit.bounce.pulses, "at most", 0);
    }
    if (fit.rise_skew) add_skew(table, "rise", *fit.rise_skew);
    if (fit.fall_skew) add_skew(table, "fall", *fit.fall_skew);
    if (fit.first_on_extra_us) add_row(table, "first light longer", *fit.first_on_extra_us, "ms", 1, 1e3);
    if (fit.other) {
        table.rows.push_back({other_title(*fit.other)});
        add_rhythm(table, fit.other->rhythm);
    }
    return table;
}

std::string side_change_text(const SideChangeFit& fit) {
    Table table{{"", ""}};
    table.rows.push_back(
        {"on a side change",
         fmt::format("{}, from {} recorded", fit.model ? name(*fit.model) : "unknown", fit.changes)});
    if (fit.cut > 0)
        table.rows.push_back(
            {"switch travel", fmt::format("{:.2f} to {:.2f} ms, from {} cut lights", ms(fit.dark_least_us),
                                          ms(fit.dark_most_us), fit.cut)});
    return table_text(table, 2);
}

} // namespace

std::string fit_text(const BikeFit& fit, const std::string& title) {
    std::string heading = fmt::format("{}: {} whole on times and {} dark times in {} runs", legible(title),
                                      fit.rhythm.on_count, fit.rhythm.dark_count, fit.bursts);
    if (fit.set_aside > 0)
        heading += fmt::format(", {} flash{} spoilt by noise set aside", fit.set_aside,
                               fit.set_aside == 1 ? "" : "es");
    if (fit.rhythm.odd > 0) heading += fmt::format(", {} more fit no rhythm", fit.rhythm.odd);
    std::string text = wrapped("", "  ", heading) + "\n" + table_text(estimates(fit), 2) + "\n" +
                       side_change_text(fit.side_change) + "\nNot known\n";
    for (const std::string& question : open_questions(fit))
        text += wrapped("- ", "  ", question);
    return text + "\n" + std::string(caution);
}

} // namespace winkhold::measure
