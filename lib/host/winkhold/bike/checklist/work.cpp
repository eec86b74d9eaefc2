#include "winkhold/bike/checklist/work.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/bike/checklist/report.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

std::string limit_of(const CheckPoint& point) {
    if (point.is_yes_or_no()) return {};
    const std::string limit = limit_text(point);
    return limit.empty() ? fmt::format(" Limit not known: {}.", point.source)
                         : fmt::format(" Limit: {}.", limit);
}

constexpr const char* by_hand = "with ________________ on __________ by ________";
constexpr const char* remark = "remark ____________________________________________";

/// What is to be written there, or was.
std::string answer_of(const PointRecord& record) {
    if (!record.measured)
        return record.point.is_yes_or_no() ? fmt::format("done / not done    {}", by_hand)
                                           : fmt::format("________ {}    {}", record.point.unit, by_hand);
    const Measurement& one = *record.measured;
    const auto or_line = [](const std::string& text) { return text.empty() ? "________________" : text; };
    std::string text = fmt::format("{}    with {} on {} by {}", measured_text(record), or_line(one.with),
                                   or_line(one.on), or_line(one.by));
    if (record.standing == Standing::failed) text += "    NOT GOOD";
    return one.note.empty() ? text : fmt::format("{}    ({})", text, one.note);
}

std::string head_of(const Checklist& checklist) {
    return under_notice(checklist.still_example,
                        fmt::format("Work paper of {}, state {:08x}. {}", checklist.vehicle,
                                    checklist.readiness.crc32, no_certificate));
}

/// A page may get loose.
std::string page_of(const Checklist& checklist) {
    return fmt::format(" -- {}, state {:08x}", checklist.vehicle, checklist.readiness.crc32);
}

template <class Begin, class Add>
void each_page(const Checklist& checklist, Begin&& begin, Add&& add) {
    for (const Stage stage : all_stages) {
        bool is_begun = false;
        for (const PointRecord& record : checklist.points) {
            if (record.point.stage != stage) continue;
            if (!is_begun) begin(stage_title(stage));
            is_begun = true;
            add(record, fmt::format("{} {}: {}{}", mark(record.standing), record.point.id, record.point.task,
                                    limit_of(record.point)));
        }
    }
}

/// Entries that stand in the file and don't do, as comments: they are mended where they are.
std::string entries_to_mend(const Checklist& checklist) {
    std::string text;
    for (const PointRecord& record : checklist.points)
        if (record.measured && !record.why.empty())
            text += wrapped("# ", "#   ",
                            legible(fmt::format("{}: {} is entered, but {}.", record.measured->where,
                                                record.point.id, record.why)));
    return text;
}

} // namespace

std::string work_text(const Checklist& checklist) {
    std::string text = wrapped("", "  ", verdict_line(checklist.readiness));
    text += wrapped("", "", legible(head_of(checklist)));
    text += "\n";
    for (const std::string_view line : lines_by_hand)
        text += fmt::format("{}\n\n", line);
    each_page(
        checklist,
        [&](const std::string& title) {
            text += "\f" + wrapped("", "  ", legible(title + page_of(checklist)));
        },
        [&](const PointRecord& record, const std::string& point) {
            text += "\n" + wrapped("  ", "      ", legible(point)) +
                    wrapped("      ", "      ", legible(answer_of(record)));
            if (!record.measured) text += fmt::format("      {}\n", remark);
        });
    return text + "\n" + std::string(caution);
}

std::string work_markdown(const Checklist& checklist) {
    std::string text = fmt::format("# {}\n\n{}\n\n", markdown_text(verdict_line(checklist.readiness)),
                                   markdown_text(head_of(checklist)));
    for (const std::string_view line : lines_by_hand)
        text += fmt::format("{}\n\n", markdown_text(line));
    each_page(
        checklist,
        [&](const std::string& title) {
            text += fmt::format("---\n\n## {}{}\n\n", title, markdown_text(page_of(checklist)));
        },
        [&](const PointRecord& record, const std::string& point) {
            text += fmt::format("- {}  \n  {}\n", markdown_text(point), markdown_text(answer_of(record)));
            if (!record.measured)
                text.insert(text.size() - 1, fmt::format("  \n  {}", markdown_text(remark)));
        });
    return text + fmt::format("\n> {}\n", caution_line());
}

std::string entries_toml(const Checklist& checklist) {
    std::string text = wrapped("# ", "#   ", verdict_line(checklist.readiness)) +
                       "# Append to the vehicle file, fill in, and take the # away.\n"
                       "# with: the instrument, or \"eyes\"; on: the day, like \"2026-03-14\".\n" +
                       entries_to_mend(checklist);
    for (const PointRecord& record : checklist.points) {
        if (record.measured) continue;
        const CheckPoint& point = record.point;
        text += "\n" + wrapped("# -- ", "#    ", legible(point.task + limit_of(point)));
        text +=
            fmt::format("# [[measured]]\n# what = \"{}\"\n# {}\n# with = \"\"\n# on = \"\"\n# by = \"\"\n"
                        "# note = \"\"\n",
                        legible(point.id),
                        point.is_yes_or_no() ? "done = " : fmt::format("value =          # {}", point.unit));
    }
    return text;
}

} // namespace winkhold::bike
