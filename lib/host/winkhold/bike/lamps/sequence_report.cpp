#include "winkhold/bike/lamps/sequence_report.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/put_aside.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/text/detail/strip.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/text_out.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/bike/lamps/detail/fill_tally.hpp"
#include "winkhold/bike/lamps/detail/lamp_picture.hpp"
#include "winkhold/taps/decode/detail/caveats.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

const char* job_name(core::Job job) {
    constexpr const char* names[] = {"turn", "stop", "tail", "marker"};
    return names[static_cast<std::size_t>(job)];
}

std::string_view side_name(core::Indication side) {
    return side == core::Indication::hazard ? "both" : name(side);
}

const char* clock_name(core::FlashSource source) {
    return source == core::FlashSource::following ? "following" : "own-rate";
}

void run(LampPlayer& player, EdgeSource& source, FillTally& tally) {
    Edge edge;
    while (source.next(edge)) {
        tally.edge(edge);
        player.feed(edge);
    }
    player.finish(source.end_us());
}

std::string groups_json(const LampPlan& plan) {
    Json groups = Json::array();
    for (const LampGroup& group : plan.lamps)
        groups.push_back({{"name", group.name},
                          {"job", job_name(group.plays.job)},
                          {"side", side_name(group.plays.side)},
                          {"lamps", group.plays.count}});
    return json_line(groups);
}

/// A member that is left out if there is nothing in it.
std::string texts_json(const char* key, const std::vector<std::string>& texts) {
    return texts.empty() ? "" : fmt::format("\"{}\":{},\n", key, json_line(Json(texts)));
}

void write_json(std::ostream& out, EdgeSource& source, LampPlayer& player, FillTally& tally,
                const LampPlan& plan) {
    TextOut text(out);
    PutAside fills;
    const char* between_frames = "";
    const char* between_fills = "";
    text.add("{{\"schema\":\"winkhold.sequence/1\",\n{}\"clock\":\"{}\",\n\"groups\":{},\n\"frames\":[",
             texts_json("still_example", plan.still_example.sections) +
                 texts_json("lamp_warnings", plan.warnings),
             clock_name(plan.timing.source), groups_json(plan));
    player.on_frame([&](const LampFrame& frame) {
        tally.frame(frame);
        text.add("{}\n{{\"t_us\":{},\"indication\":\"{}\",\"brightness\":[", between_frames, frame.t_us,
                 name(frame.shown));
        between_frames = ",";
        for (std::size_t i = 0; i < frame.groups.size(); ++i) {
            text.add("{}[", i == 0 ? "" : ",");
            for (std::uint16_t lamp = 0; lamp < plan.lamps[i].plays.count; ++lamp)
                text.add("{}{}", lamp == 0 ? "" : ",", frame.groups[i].brightness(lamp));
            text.add("]");
        }
        text.add("]}}");
    });
    player.on_fill([&](const LampFill& fill) {
        tally.fill(fill);
        print_to(fills.stream(),
                 "{}\n{{\"group\":{},\"t_us\":{},\"end_us\":{},\"full_us\":{},\"reached\":{},"
                 "\"may_be_cut\":{}}}",
                 between_fills, fill.group, fill.start_us, fill.end_us,
                 fill.full() ? fmt::format("{}", fill.full_us) : "null", fill.reached, fill.may_be_cut);
        between_fills = ",";
    });
    run(player, source, tally);
    text.add("],\n\"fills\":[");
    text.flush();
    fills.write_to(out);
    print_to(out, "],\n\"stop_delay_us\":{},\n\"end_us\":{}",
             tally.longest_stop_us() < 0 ? "null" : fmt::format("{}", tally.longest_stop_us()),
             source.end_us());
    write_caveats_json(out, source.caveats());
    print_to(out, "}}\n");
}

void write_csv(std::ostream& out, EdgeSource& source, LampPlayer& player, FillTally& tally,
               const LampPlan& plan) {
    CsvWriter csv(out);
    csv.field("time_us");
    csv.field("indication");
    for (const LampGroup& group : plan.lamps)
        for (int lamp = 1; lamp <= group.plays.count; ++lamp)
            csv.field(fmt::format("{} {}", group.name, lamp));
    csv.end_record();
    LampFrame last;
    const auto row = [&](TimeUs t_us) {
        csv.field(t_us);
        csv.field(name(last.shown));
        for (std::size_t i = 0; i < last.groups.size(); ++i)
            for (std::uint16_t lamp = 0; lamp < plan.lamps[i].plays.count; ++lamp)
                csv.field(last.groups[i].brightness(lamp));
        csv.end_record();
    };
    player.on_frame([&](const LampFrame& frame) {
        tally.frame(frame);
        last = frame;
        row(frame.t_us);
    });
    player.on_fill([&](const LampFill& fill) { tally.fill(fill); });
    run(player, source, tally);
    if (!last.groups.empty() && source.end_us() > last.t_us) row(source.end_us());
    csv.flush();
}

std::string lamps_from(const LampFill& fill, const core::LampGroup& plays) {
    if (plays.pattern.fills == core::Pattern::Fills::brightness)
        return fmt::format("reaches brightness {} of {} only", fill.reached, plays.full);
    if (fill.reached + 1 == plays.count) return fmt::format("lamp {} stays dark", plays.count);
    return fmt::format("lamps {}-{} stay dark", fill.reached + 1, plays.count);
}

/// "first in flash 4 at 5.123 s"
std::string from_flash(const FlashMark& mark) {
    return fmt::format("first in flash {} at {:.3f} s", mark.number,
                       static_cast<double>(mark.start_us) / 1e6);
}

/// What to know of a group; empty if it has never been lit for its job.
std::string tally_text(const LampGroup& group, const GroupTally& tally) {
    std::string text = fmt::format("{} flashes", tally.flashes);
    if (!group.plays.all_at_once() && tally.longest_full_us > 0)
        text += fmt::format(", full {} ms after it begins at the latest",
                            short_number(ms(tally.longest_full_us)));
    if (tally.cut > 0) text += fmt::format(", {} ended with the signal before it was full", tally.cut);
    if (tally.hurried > 0)
        text += fmt::format("; {} filled faster than asked, to be full in time, {}", tally.hurried,
                            from_flash(tally.first_hurried));
    if (tally.short_of > 0)
        text += fmt::format("; {} NOT full, {}; the worst: {} at {:.3f} s, lit for {} ms", tally.short_of,
                            from_flash(tally.first_short), lamps_from(tally.shortest, group.plays),
                            static_cast<double>(tally.shortest.start_us) / 1e6,
                            short_number(ms(tally.shortest.end_us - tally.shortest.start_us)));
    return text;
}

std::string tallies(const LampPlan& plan, const FillTally& tally) {
    Table table{{{"", Align::right}, ""}};
    for (std::size_t i = 0; i < plan.lamps.size(); ++i) {
        const LampGroup& group = plan.lamps[i];
        const GroupTally& of = tally.groups()[i];
        std::string text;
        if (group.plays.job == core::Job::turn)
            text = of.flashes > 0 ? tally_text(group, of) : "never lit: its side is never shown";
        else if (!of.was_full)
            text = group.plays.job == core::Job::stop   ? "never lit: no brake in this recording"
                   : group.plays.job == core::Job::tail ? "never lit: no tail light in this recording"
                                                        : "never at full: its side is shown all along";
        else if (group.plays.job == core::Job::stop)
            text = fmt::format("lit {} ms after the brake tap at the latest",
                               short_number(ms(std::max<TimeUs>(0, tally.longest_stop_us()))));
        if (!text.empty()) table.rows.push_back({group.name, std::move(text)});
    }
    return table_text(table, 2);
}

/// The side that is left goes on as one turn; lamps that keep their own rate show no break between both.
std::string collapse_text(const LampPlan& plan, const FillTally& tally) {
    if (tally.collapses() == 0) return "";
    const std::string often = tally.collapses() == 1 ? "once" : fmt::format("{} times", tally.collapses());
    return wrapped(
        "  ", "  ",
        fmt::format("A hazard became one side without a pause {}, first at {:.3f} s: the other side's "
                    "lamps go dark at once, {}. A tap that is lost looks so, too.",
                    often, static_cast<double>(tally.first_collapse_us()) / 1e6,
                    plan.timing.source == core::FlashSource::following
                        ? "this side's go on with its line"
                        : "this side's go on at their own rate, as if nothing had been"));
}

std::string timing_text(const core::SequenceSettings& s) {
    if (s.source == core::FlashSource::following) return "in the line's own flashes";
    return fmt::format("at an own rate, {} ms lit and {} ms dark", short_number(ms(TimeUs{s.on_us})),
                       short_number(ms(TimeUs{s.dark_us})));
}

void write_text(std::ostream& out, EdgeSource& source, LampPlayer& player, FillTally& tally,
                const LampPlan& plan, const CloseUp& close_up, const std::string& title) {
    std::vector<Strip> strips(plan.lamps.size());
    LampPicture picture(plan, close_up);
    TimeUs first_us = -1;
    player.on_frame([&](const LampFrame& frame) {
        if (first_us < 0) first_us = frame.t_us;
        tally.frame(frame);
        picture.frame(frame);
        for (std::size_t i = 0; i < strips.size(); ++i) {
            const core::GroupFrame& now = frame.groups[i];
            strips[i].level(frame.t_us, now.lit > 0 && now.level == plan.lamps[i].plays.full);
        }
    });
    player.on_fill([&](const LampFill& fill) { tally.fill(fill); });
    run(player, source, tally);

    const TimeUs from_us = std::max<TimeUs>(0, first_us);
    const TimeUs end_us = source.end_us();
    const auto seconds = [](TimeUs us) { return static_cast<double>(us) / 1e6; };
    const std::vector<core::LampGroup> groups = plan.groups();
    out << wrapped("", "  ",
                   fmt::format("{}: {:.3f} s to {:.3f} s", legible(title), seconds(from_us), seconds(end_us)))
        << wrapped("", "  ",
                   fmt::format("Lamps of {}, {}", legible(plan.origin),
                               timing_text(core::paced_by(plan.timing, groups.data(),
                                                          static_cast<std::uint8_t>(groups.size())))));
    if (!plan.still_example.notice.empty()) out << wrapped("", "  ", legible(plan.still_example.notice));
    for (const std::string& warning : plan.warnings)
        out << wrapped("Warning: ", "  ", warning);
    out << "\n";
    for (std::size_t i = 0; i < strips.size(); ++i)
        out << picture_row(plan.lamps[i].name, "", strips[i].draw(from_us, end_us, picture_columns));
    out << wrapped(
               "  ", "  ",
               fmt::format("# a lamp at its brightness, _ none, + both within one character, {:.3g} ms each",
                           ms(end_us - from_us) / picture_columns))
        << "\n";
    picture.draw(out, end_us);
    write_caveats_text(out, source.caveats());
    out << tallies(plan, tally) << collapse_text(plan, tally) << "\n" << caution;
}

} // namespace

std::int64_t write_sequence(std::ostream& out, EdgeSource& source, const core::Settings& settings,
                            const LampPlan& plan, Format format, const CloseUp& close_up,
                            const std::string& title) {
    LampPlayer player(settings, plan);
    FillTally tally(plan);
    if (format == Format::json)
        write_json(out, source, player, tally, plan);
    else if (format == Format::csv)
        write_csv(out, source, player, tally, plan);
    else
        write_text(out, source, player, tally, plan, close_up, title);
    return tally.short_of();
}

} // namespace winkhold::bike
