#include "winkhold/taps/decode/decode.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/put_aside.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/strip.hpp"
#include "winkhold/base/text/detail/text_out.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/taps/decode/detail/caveats.hpp"
#include "winkhold/taps/decode/detail/close_ups.hpp"
#include "winkhold/taps/decode/detail/decoded_with.hpp"
#include "winkhold/taps/decode/detail/usual_flash.hpp"
#include "winkhold/taps/trace/events.hpp"

#include <fmt/format.h>
#include <vector>

namespace winkhold::taps {
namespace {

using core::Indication;
using core::Side;

/// Feeds the whole source; returns its end.
TimeUs run(DecodedFeed& feed, EdgeSource& source) {
    Edge edge;
    while (source.next(edge))
        feed.feed(edge);
    feed.finish(source.end_us());
    return source.end_us();
}

void write_json(std::ostream& out, EdgeSource& source, DecodedFeed& feed,
                const std::function<void()>& addition) {
    PutAside faults;
    const char* between_changes = "";
    const char* between_faults = "";
    print_to(out, "{{\"schema\":\"winkhold.decode/1\",\n\"transitions\":[");
    feed.on_indication([&](TimeUs t_us, Indication indication) {
        print_to(out, "{}\n{{\"t_us\":{},\"indication\":\"{}\"}}", between_changes, t_us, name(indication));
        between_changes = ",";
    });
    feed.on_fault([&](const FaultEvent& fault) {
        print_to(faults.stream(), "{}\n{{\"t_us\":{},\"fault\":\"{}\",\"line\":\"{}\"}}", between_faults,
                 fault.t_us, name(fault.fault), name(fault.line));
        between_faults = ",";
    });
    const TimeUs end_us = run(feed, source);
    print_to(out, "],\n\"faults\":[");
    faults.write_to(out);
    print_to(out, "],\n\"end_us\":{}", end_us);
    write_caveats_json(out, source.caveats());
    addition();
    print_to(out, "}}\n");
}

void write_csv(std::ostream& out, EdgeSource& source, DecodedFeed& feed) {
    CsvWriter csv(out);
    csv.record("time_us", "event", "value", "line");
    feed.on_indication(
        [&](TimeUs t_us, Indication indication) { csv.record(t_us, "indication", name(indication), ""); });
    feed.on_fault([&](const FaultEvent& fault) {
        csv.record(fault.t_us, "fault", name(fault.fault), name(fault.line));
    });
    const TimeUs end_us = run(feed, source);
    for (const Caveat& caveat : source.caveats())
        csv.record(caveat.first_us, "caveat", caveat.name, "");
    csv.record(end_us, "end", "", "");
    csv.flush();
}

/// `out` passes on what it gets as it comes: then each change is told when it happens, too.
class TextReport {
public:
    TextReport(DecodedFeed& feed, std::ostream& out, TimeUs pwm_gap_us)
        : flashes_{UsualFlash(pwm_gap_us), UsualFlash(pwm_gap_us)} {
        feed.on_edge([this](const Edge& edge) {
            if (first_us_ < 0) first_us_ = edge.t_us;
            for (const Side side : {Side::left, Side::right}) {
                lines_[index(side)].level(edge.t_us, edge.lines.has(side));
                flashes_[index(side)].level(edge.t_us, edge.lines.has(side));
            }
            close_ups_.lines(edge);
        });
        feed.on_indication([this, &out](TimeUs t_us, Indication indication) {
            for (const Side side : {Side::left, Side::right})
                shown_[index(side)].level(t_us, core::shows(indication, side));
            close_ups_.indication(t_us, indication);
            listed(t_us, fmt::format("{}", name(indication)), changes_);
            if (is_live(out)) print_to(out, "{:>14.6f} s  {}\n", seconds(t_us), name(indication));
        });
        feed.on_fault([this](const FaultEvent& fault) {
            listed(fault.t_us, fmt::format("{}: {}", name(fault.line), advice(fault.fault)), faults_);
        });
    }

    void print(std::ostream& out, const std::string& title, TimeUs end_us,
               const std::vector<Caveat>& caveats) {
        constexpr std::size_t columns = 66;
        if (is_live(out)) out << "\n";
        const TimeUs from_us = std::max<TimeUs>(first_us_, 0);
        out << wrapped(
                   "", "  ",
                   fmt::format("{}: {:.3f} s to {:.3f} s", legible(title), seconds(from_us), seconds(end_us)))
            << "\n";
        const auto strip = [&](const char* label, Strip& strip) {
            print_to(out, "{:>12} {}\n", label, strip.draw(from_us, end_us, columns));
        };
        strip("line left", lines_[0]);
        strip("line right", lines_[1]);
        strip("shown left", shown_[0]);
        strip("shown right", shown_[1]);
        const double character_us = static_cast<double>(end_us - from_us) / columns;
        print_to(out, "{:>12} # high  _ low  + both within one character, {:.3g} ms each\n", "",
                 character_us / 1e3);
        if (const double flash_us = shortest_us(); flash_us > 0 && 2 * character_us > flash_us)
            out << wrapped(std::string(13, ' '), std::string(13, ' '),
                           fmt::format("that is longer than half a flash ({:.0f} ms): single ones can't be "
                                       "seen here",
                                       flash_us / 1e3));
        print_to(out, "\n");
        write_caveats_text(out, caveats);
        if (!is_live(out)) list(out, "Indication", changes_);
        list(out, "Faults", faults_);
        close_ups_.finish(end_us);
        close_ups_.print(out);
    }

private:
    /// Of either line's usual lights and gaps; 0: not known.
    double shortest_us() const {
        const double left_us = flashes_[0].shorter_us();
        const double right_us = flashes_[1].shorter_us();
        return left_us > 0 && right_us > 0 ? std::min(left_us, right_us) : std::max(left_us, right_us);
    }

    struct List {
        std::vector<std::string> first;
        std::int64_t count{0};
    };

    static bool is_live(const std::ostream& out) { return (out.flags() & std::ios::unitbuf) != 0; }
    static std::size_t index(Side side) { return static_cast<std::size_t>(side); }
    static double seconds(TimeUs us) { return static_cast<double>(us) / 1e6; }

    static void listed(TimeUs t_us, const std::string& what, List& list) {
        constexpr std::size_t most = 40;
        if (++list.count <= static_cast<std::int64_t>(most))
            list.first.push_back(
                wrapped(fmt::format("{:>14.6f} s  ", seconds(t_us)), std::string(18, ' '), what));
    }

    static void list(std::ostream& out, const char* title, const List& list) {
        print_to(out, "{}{}\n", title, list.count == 0 ? ": none" : "");
        for (const std::string& line : list.first)
            print_to(out, "{}", line);
        const auto more = list.count - static_cast<std::int64_t>(list.first.size());
        if (more > 0) print_to(out, "{:>16}  and {} more; --csv lists all\n", "", more);
        print_to(out, "\n");
    }

    UsualFlash flashes_[2];
    CloseUps close_ups_;
    Strip lines_[2];
    Strip shown_[2];
    List changes_;
    List faults_;
    TimeUs first_us_{-1};
};

} // namespace

void write_decoded(std::ostream& out, EdgeSource& source, const core::Settings& settings, Format format,
                   const std::string& title) {
    write_decoded_with(out, source, settings, format, title, [] {});
}

void write_decoded_with(std::ostream& out, EdgeSource& source, const core::Settings& settings, Format format,
                        const std::string& title, const std::function<void()>& addition) {
    DecodedFeed feed(settings);
    if (format == Format::json) return write_json(out, source, feed, addition);
    if (format == Format::csv) return write_csv(out, source, feed);
    TextReport report(feed, out, settings.pwm_gap_us);
    const TimeUs end_us = run(feed, source);
    report.print(out, title, end_us, source.caveats());
    addition();
    out << caution;
}

} // namespace winkhold::taps
