#include "winkhold/bike/lamps/detail/lamp_picture.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/text/detail/text_out.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr TimeUs usual_us = 18'000 * static_cast<TimeUs>(picture_columns); // 990 ms

/// 0 dark, 1 to 3 brighter.
std::size_t shade(std::uint8_t brightness) {
    return brightness == 0 ? 0 : brightness < 86 ? 1 : brightness < 171 ? 2 : 3;
}

/// What the lamps look like if the file doesn't say.
LampColour usual_colour(core::Job job) {
    return job == core::Job::turn     ? LampColour::amber
           : job == core::Job::marker ? LampColour::white
                                      : LampColour::red;
}

bool any_turn_lit(const LampPlan& plan, const LampFrame& frame) {
    for (std::size_t i = 0; i < plan.lamps.size(); ++i)
        if (plan.lamps[i].plays.job == core::Job::turn && frame.groups[i].lit > 0) return true;
    return false;
}

} // namespace

std::string picture_row(const std::string& name, const std::string& numbers, const std::string& drawn) {
    const bool fits = width_of(name) <= name_columns;
    const std::string row =
        fmt::format("{:>{}} {:>{}} {}\n", fits ? name : "", name_columns, numbers, number_columns, drawn);
    return fits ? row : wrapped("", "  ", legible(name)) + row;
}

LampPicture::LampPicture(const LampPlan& plan, const CloseUp& close_up)
    : plan_(plan), close_up_(close_up),
      column_us_(std::max<TimeUs>(1, (close_up.for_us > 0 ? close_up.for_us : usual_us) /
                                         static_cast<TimeUs>(picture_columns))),
      from_us_(close_up.from_us) {
    std::size_t lamps = 0;
    for (const LampGroup& group : plan.lamps)
        lamps += group.plays.count;
    cells_.assign(lamps * picture_columns, 0);
    filled_us_ = std::max<TimeUs>(0, from_us_);
}

void LampPicture::frame(const LampFrame& frame) {
    if (from_us_ < 0 && any_turn_lit(plan_, frame))
        from_us_ = filled_us_ = std::max<TimeUs>(0, frame.t_us - 2 * column_us_);
    if (from_us_ >= 0) fill(frame.t_us);
    last_ = frame;
}

/// The last frame was shown until `to_us`.
void LampPicture::fill(TimeUs to_us) {
    const TimeUs border_us = from_us_ + column_us_ * static_cast<TimeUs>(picture_columns);
    to_us = std::min(to_us, border_us);
    if (to_us <= filled_us_) return;
    const auto first = static_cast<std::size_t>((filled_us_ - from_us_) / column_us_);
    const auto last = static_cast<std::size_t>((to_us - 1 - from_us_) / column_us_);
    filled_us_ = to_us;
    std::size_t row = 0;
    for (std::size_t i = 0; i < last_.groups.size(); ++i)
        for (std::uint16_t lamp = 0; lamp < plan_.lamps[i].plays.count; ++lamp, ++row)
            for (std::size_t column = first; column <= last; ++column) {
                std::uint8_t& cell = cells_[row * picture_columns + column];
                cell = std::max(cell, last_.groups[i].brightness(lamp));
            }
}

void LampPicture::draw(std::ostream& out, TimeUs end_us) {
    if (from_us_ < 0) return;
    fill(end_us);
    const auto columns =
        static_cast<std::size_t>(std::max<TimeUs>(0, filled_us_ - from_us_ + column_us_ - 1) / column_us_);
    if (columns == 0) return;
    print_to(out, "From {:.3f} s on, {:.3g} ms each character\n\n", static_cast<double>(from_us_) / 1e6,
             static_cast<double>(column_us_) / 1e3);
    std::size_t row = 0;
    for (std::size_t group = 0; group < plan_.lamps.size(); ++group) {
        draw_group(out, group, row, columns);
        row += plan_.lamps[group].plays.count;
    }
    out << "  " << (close_up_.colour ? "" : "_ dark, : + # brighter; ")
        << "the brightest within each character\n\n";
}

void LampPicture::draw_group(std::ostream& out, std::size_t group, std::size_t first_row,
                             std::size_t columns) const {
    const LampGroup& lamps = plan_.lamps[group];
    const LampColour colour = lamps.colour.value_or(usual_colour(lamps.plays.job));
    std::string label = lamps.name;
    for (std::size_t lamp = 0; lamp < lamps.plays.count;) {
        const std::size_t first = lamp;
        const auto same = [&] {
            return std::equal(cells(first_row + first), cells(first_row + first) + columns,
                              cells(first_row + lamp));
        };
        while (lamp < lamps.plays.count && same())
            ++lamp;
        const std::string numbers =
            lamp - first == 1 ? fmt::format("{}", lamp) : fmt::format("{}-{}", first + 1, lamp);
        out << picture_row(label, numbers, row(first_row + first, columns, colour));
        label.clear();
    }
}

std::string LampPicture::row(std::size_t row, std::size_t columns, LampColour colour) const {
    constexpr char plain[] = {'_', ':', '+', '#'};
    // of the 256 colours that terminals share: dark, then three shades of amber, red and white
    constexpr int background[][4] = {{234, 94, 172, 214}, {234, 52, 124, 196}, {234, 240, 248, 231}};
    std::string drawn;
    std::size_t before = 4;
    for (std::size_t column = 0; column < columns; ++column) {
        const std::size_t now = shade(cells(row)[column]);
        if (!close_up_.colour) {
            drawn += plain[now];
            continue;
        }
        if (now != before) drawn += fmt::format("\033[48;5;{}m", background[static_cast<int>(colour)][now]);
        before = now;
        drawn += ' ';
    }
    return close_up_.colour ? drawn + "\033[0m" : drawn;
}

} // namespace winkhold::bike
