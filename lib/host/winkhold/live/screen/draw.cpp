// What a Desk looks like.
#include "winkhold/live/screen/desk.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/base/settings_text.hpp"
#include "winkhold/base/text/detail/strip.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/live/screen/lines.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::live {
namespace {

constexpr std::size_t label_columns = 14;
constexpr std::size_t least_columns = 60;
constexpr TimeUs short_window_us = 15'000'000;
constexpr TimeUs minute_us = 60'000'000;
constexpr TimeUs what_if_us = 500'000; // how old it may be

/// The first so many characters.
std::string cut(const std::string& text, std::size_t columns) {
    std::size_t seen = 0;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const bool begins = (static_cast<unsigned char>(text[at]) & 0xc0) != 0x80;
        if (begins && seen++ == columns) return text.substr(0, at);
    }
    return text;
}

/// A stretch of a strip in blocks, or in plain characters.
std::string blocks(const std::string& strip, bool utf8) {
    if (!utf8) return strip;
    std::string drawn;
    for (const char c : strip)
        drawn += c == '#' ? "\u2588" : c == '+' ? "\u2584" : c == '_' ? "\u00b7" : " ";
    return drawn;
}

/// One level over time, drawn from changes of which only those in the window matter.
template <class Changes, class Lit>
std::string drawn(const Changes& changes, TimeUs from_us, TimeUs now_us, TimeUs to_us, std::size_t columns,
                  Lit lit) {
    const TimeUs cell_us = (to_us - from_us) / static_cast<TimeUs>(columns);
    Strip strip;
    auto first = std::partition_point(changes.begin(), changes.end(),
                                      [&](const auto& change) { return change.t_us <= from_us; });
    const bool known = first != changes.begin();
    if (known) strip.level(0, lit(*std::prev(first)));
    const TimeUs known_us = known ? from_us : first == changes.end() ? to_us : first->t_us;
    for (; first != changes.end() && first->t_us < to_us; ++first)
        strip.level(first->t_us - from_us, lit(*first));
    std::string text = strip.draw(0, to_us - from_us, columns);
    const auto columns_until = [&](TimeUs t_us) {
        return std::clamp<std::size_t>(
            static_cast<std::size_t>(std::max<TimeUs>(0, t_us - from_us) / cell_us), 0, columns);
    };
    std::fill_n(text.begin(), columns_until(known_us), ' ');
    for (std::size_t i = columns_until(now_us); i < columns; ++i)
        text[i] = ' ';
    return text;
}

bool lit_in(const Edge& edge, core::Side side) {
    return edge.lines.has(side);
}
bool lit_in(const IndicationChange& change, core::Side side) {
    return core::shows(change.indication, side);
}

std::string milliseconds(const Durations& d) {
    if (d.count == 0) return "-";
    return fmt::format("{} ms ({}-{})", (d.mean_us + 500) / 1'000, d.least_us / 1'000, d.most_us / 1'000);
}

/// How often and how long the two answers differ.
std::string compared(const Timeline& now, const Timeline& with, TimeUs from_us, TimeUs end_us) {
    const auto at = [](const Timeline& line, TimeUs t_us) {
        const auto next = std::partition_point(
            line.begin(), line.end(), [&](const IndicationChange& change) { return change.t_us <= t_us; });
        return next == line.begin() ? core::Indication::off : std::prev(next)->indication;
    };
    std::vector<TimeUs> moments{from_us, end_us};
    for (const Timeline* line : {&now, &with})
        for (const IndicationChange& change : *line)
            if (change.t_us > from_us && change.t_us < end_us) moments.push_back(change.t_us);
    std::sort(moments.begin(), moments.end());
    TimeUs differs_us = 0;
    int times = 0;
    bool before = false;
    for (std::size_t i = 0; i + 1 < moments.size(); ++i) {
        if (moments[i] == moments[i + 1]) continue;
        const bool differs = at(now, moments[i]) != at(with, moments[i]);
        if (differs) {
            differs_us += moments[i + 1] - moments[i];
            if (!before) ++times;
        }
        before = differs;
    }
    if (times == 0) return "the last minute would have looked the same";
    return fmt::format("differs {} times, {} of the last minute", times,
                       format_duration(differs_us / 1'000 * 1'000));
}

} // namespace

Picture Desk::draw(const ScreenSize& size, TimeUs clock_us) {
    clock_us_ = clock_us;
    Picture picture;
    if (size.columns < least_columns || size.rows < 12) {
        picture.push_back({{cut("make the terminal larger: 80 x 24", size.columns), Look::strong}});
        picture.push_back({{cut(std::string(live_caution), size.columns), Look::plain}});
    } else {
        draw_head(picture, size);
        draw_strips(picture, size);
        draw_figures(picture);
        draw_settings(picture);
        draw_foot(picture, size);
    }
    if (picture.size() > size.rows) picture.resize(size.rows);
    for (std::vector<Piece>& row : picture) {
        std::size_t left = size.columns;
        for (Piece& piece : row) {
            piece.text = cut(piece.text, left);
            left -= width_of(piece.text);
        }
    }
    return picture;
}

void Desk::draw_head(Picture& picture, const ScreenSize&) const {
    const LiveState& state = session_.state();
    std::vector<Piece> head{{"Winkhold live  ", Look::strong}, {cut(port_, 24) + "  ", Look::plain}};
    if (!state.port_open)
        head.push_back({"port gone", Look::trouble});
    else if (!state.hello)
        head.push_back({"no board heard yet", Look::trouble});
    else
        head.push_back({fmt::format("vehicle {:08x}{}", state.hello->vehicle_hash,
                                    !state.same_vehicle   ? ""
                                    : *state.same_vehicle ? " = file"
                                                          : " IS NOT THE FILE"),
                        state.same_vehicle == false ? Look::trouble : Look::plain});
    if (log_) head.push_back({fmt::format("  recording {}", log_->path()), Look::good});
    picture.push_back(std::move(head));
    picture.push_back({{std::string(live_caution), Look::trouble}});

    std::vector<Piece> now{
        {"shows ", Look::plain},
        {fmt::format("{:<8}", state.shown ? name(*state.shown) : "?"), Look::lit},
        {fmt::format("taps {:<20}", state.raw ? taps_text(*state.raw) : "?"), Look::plain}};
    std::string faults;
    for (const core::Side side : core::both_sides)
        for (const core::Fault fault : all_faults)
            if ((state.faults[static_cast<std::size_t>(side)] & fault) != 0)
                faults += fmt::format(" {}: {}", name(side), name(fault));
    now.push_back(faults.empty() ? Piece{" no fault", Look::good} : Piece{faults, Look::trouble});
    picture.push_back(std::move(now));
}

void Desk::draw_strips(Picture& picture, const ScreenSize& size) {
    const LiveState& state = session_.state();
    const std::size_t columns = size.columns - label_columns - 1;
    const TimeUs window_us = whole_minute_ ? minute_us : short_window_us;
    const TimeUs cell_us = window_us / static_cast<TimeUs>(columns);
    const TimeUs silent_us = std::max<TimeUs>(0, state.silent_us.value_or(0));
    const TimeUs now_us = state.now_us.value_or(0) + std::min<TimeUs>(silent_us, 2'000'000);
    // whole columns, so that what is drawn moves on and never flickers
    const TimeUs to_us = (now_us / cell_us + 1) * cell_us;
    const TimeUs from_us = to_us - cell_us * static_cast<TimeUs>(columns);

    const std::string scale = fmt::format("{} s ago", window_us / 1'000'000);
    picture.push_back(
        {{std::string(label_columns, ' ') + scale +
              std::string(columns > scale.size() + 3 ? columns - scale.size() - 3 : 0, ' ') + "now",
          Look::faint}});
    const auto strips = [&](std::string_view what, const auto& changes, Look look) {
        for (const core::Side side : core::both_sides)
            picture.push_back(
                {{fmt::format("{:<{}}", fmt::format("{} {}", what, name(side)), label_columns), Look::plain},
                 {blocks(drawn(changes, from_us, now_us, to_us, columns,
                               [&](const auto& change) { return lit_in(change, side); }),
                         size.utf8),
                  look}});
    };
    strips("taps", session_.taps(), Look::plain);
    strips("settled", session_.settled(), Look::plain);
    strips("shows", session_.shown(), Look::lit);
    if (!candidate_) {
        picture.push_back(
            {{"up and down choose a setting, left and right change it; then the last", Look::faint}});
        picture.push_back({{"minute stands here as it would have been with it", Look::faint}});
        return;
    }
    if (!what_if_ || clock_us_ - what_if_->at_us >= what_if_us) {
        Timeline with = session_.answer_with(*candidate_);
        std::string summary =
            compared(session_.answer_with(in_force()), with, std::max<TimeUs>(0, now_us - minute_us), now_us);
        what_if_ = WhatIf{std::move(with), std::move(summary), clock_us_};
    }
    strips("changed", what_if_->with_candidate, Look::chosen);
}

void Desk::draw_figures(Picture& picture) const {
    const LiveState& state = session_.state();
    for (const core::Side side : core::both_sides) {
        const auto i = static_cast<std::size_t>(side);
        const FlashFigures& flashes = state.flashes[i];
        const auto rate = flashes.per_min();
        picture.push_back(
            {{fmt::format("{:<6}{:>9}  on {:<19} dark {:<19} hold {}", name(side),
                          rate ? fmt::format("{:.1f}/min", *rate) : "-", milliseconds(flashes.on),
                          milliseconds(flashes.dark), format_duration(state.hold_us[i] / 1'000 * 1'000)),
              Look::plain}});
    }
    const LinkHealth& link = state.health;
    const BoardCounters counters = state.counters.value_or(BoardCounters{});
    const bool suffers = link.missing + link.damaged > 0 || counters.dropped_edges > 0;
    picture.push_back(
        {{fmt::format("link  {} lines, {} missing, {} damaged; board dropped {}, heard {} "
                      "damaged",
                      link.lines, link.missing, link.damaged, counters.dropped_lines, counters.damaged_lines),
          suffers ? Look::trouble : Look::plain}});
    std::vector<Piece> check{
        {fmt::format("trust in the rhythm {}; checked here: ", name(state.trust)), Look::plain}};
    if (state.differences > 0)
        check.push_back({fmt::format("answers differed {} times", state.differences), Look::trouble});
    else if (state.in_step)
        check.push_back({"the same answers", Look::good});
    else
        check.push_back({"still learning what the board knows", Look::faint});
    picture.push_back(std::move(check));
}

void Desk::draw_settings(Picture& picture) const {
    const LiveState& state = session_.state();
    const core::Settings now = in_force();
    picture.push_back(
        {{fmt::format("settings in force: {}{}", state.settings ? name(state.origin) : "not known",
                      state.waiting ? "; others wait for the next flash" : ""),
          state.origin == link::Origin::tried || state.waiting ? Look::lit : Look::plain},
         {candidate_ && what_if_ ? " | " + what_if_->summary : "", Look::plain}});
    constexpr std::size_t across = 3;
    const std::size_t down = (named_settings.size() + across - 1) / across;
    for (std::size_t row = 0; row < down; ++row) {
        std::vector<Piece> pieces;
        for (std::size_t i = row; i < named_settings.size(); i += down) {
            const std::string_view setting = named_settings[i].name;
            const std::string value = value_text(now, setting);
            const std::string wanted = candidate_ ? value_text(*candidate_, setting) : value;
            const std::string text =
                fmt::format("{}{} {}", i == chosen_ ? "> " : "  ", setting,
                            wanted == value ? value : fmt::format("{} not {}", wanted, value));
            pieces.push_back({fmt::format("{:<26}", text), i == chosen_      ? Look::chosen
                                                           : wanted != value ? Look::lit
                                                                             : Look::plain});
        }
        picture.push_back(std::move(pieces));
    }
}

void Desk::draw_foot(Picture& picture, const ScreenSize& size) const {
    const LiveState& state = session_.state();
    if (state.wants_lamps || state.tested_group) {
        std::string lamps = "lamps";
        for (std::size_t i = 0; i < state.lamps.size(); ++i)
            if (state.lamps[i])
                lamps += fmt::format("  {}: {} at {}", i, state.lamps[i]->lit, state.lamps[i]->level);
        if (state.tested_group) lamps += fmt::format("  TEST of group {}, t ends it", *state.tested_group);
        picture.push_back({{lamps, Look::lit}});
    }
    std::vector<std::pair<std::string, Look>> told;
    const std::size_t keys_rows = 1;
    const std::size_t room =
        size.rows > picture.size() + keys_rows ? size.rows - picture.size() - keys_rows : 0;
    for (auto notice = notices_.rbegin(); notice != notices_.rend() && told.size() < room; ++notice) {
        const std::string lines = wrapped("", "  ", notice->text, size.columns);
        std::vector<std::string> rows;
        for (std::size_t at = 0; at < lines.size();) {
            const std::size_t end = lines.find('\n', at);
            rows.push_back(lines.substr(at, end - at));
            at = end + 1;
        }
        if (rows.size() > room) rows.resize(room); // its beginning says most
        for (auto row = rows.rbegin(); row != rows.rend() && told.size() < room; ++row)
            told.emplace_back(*row, notice->is_trouble ? Look::trouble : Look::plain);
    }
    for (auto row = told.rbegin(); row != told.rend(); ++row)
        picture.push_back({{row->first, row->second}});
    while (picture.size() + keys_rows < size.rows)
        picture.push_back({});

    std::string keys =
        "enter try  esc undo  s store  x forget  r record  m mark  l lamps  t test  w zoom  q quit";
    switch (asks_) {
    case Asks::nothing:
        if (size.columns < keys.size())
            keys = "enter try esc undo s store x forget r rec m mark l lamps t test w zoom q quit";
        break;
    case Asks::note:
        keys = fmt::format("note for the mark, then enter: {}_", typed_);
        break;
    case Asks::store:
        keys = "keep the settings in force through power-off? y stores, any other key doesn't";
        break;
    case Asks::forget:
        keys = "drop what was tried and stored, back to the firmware's settings? y does";
        break;
    case Asks::lamp:
        keys = "test which lamp group, 0 to 9? It lights only while left, right and brake are dark";
        break;
    }
    picture.push_back({{keys, asks_ == Asks::nothing ? Look::faint : Look::chosen}});
}

} // namespace winkhold::live
