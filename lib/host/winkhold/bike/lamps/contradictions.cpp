#include "winkhold/bike/lamps/contradictions.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/joined.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace winkhold::bike {
namespace {

using core::Indication;

std::string place_of(const LampGroup& group) {
    return group.where.substr(0, group.where.find(": [lamps]"));
}

bool has_word(const std::vector<std::string>& words, std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

/// Names that differ in the side alone have the same; empty if the name says none.
std::string name_without_side(const std::string& name) {
    std::string rest;
    bool has_side = false;
    for (const std::string& word : name_words(name)) {
        const bool is_side = word == "left" || word == "right";
        has_side = has_side || is_side;
        rest += is_side ? "*" : word;
        rest += ' ';
    }
    return has_side ? rest : "";
}

template <class Value>
bool differ(const std::optional<Value>& a, const std::optional<Value>& b) {
    return a != b;
}

/// The fields in which two groups that should be alike are not.
std::vector<std::string> differences(const LampGroup& a, const LampGroup& b) {
    std::vector<std::string> fields;
    const auto note = [&](bool differs, const char* field) {
        if (differs) fields.emplace_back(field);
    };
    const core::Pattern& pa = a.plays.pattern;
    const core::Pattern& pb = b.plays.pattern;
    note(a.plays.job != b.plays.job, "job");
    note(a.plays.count != b.plays.count, "count");
    note(a.plays.full != b.plays.full, "brightness");
    note(a.plays.dimmed != b.plays.dimmed, "dimmed");
    note(pa.fills != pb.fills || pa.block != pb.block, "pattern");
    note(pa.step_us != pb.step_us, "step");
    note(pa.stay_us != pb.stay_us, "stay");
    note(pa.blank_us != pb.blank_us, "blank");
    note(differ(a.at, b.at), "at");
    note(differ(a.colour, b.colour), "colour");
    note(differ(a.led_v, b.led_v), "led_v");
    note(differ(a.led_ma, b.led_ma), "led_ma");
    note(differ(a.in_series, b.in_series), "in_series");
    note(differ(a.feed, b.feed), "feed");
    note(differ(a.driver, b.driver), "driver");
    note(differ(a.width_mm, b.width_mm), "width_mm");
    note(differ(a.height_mm, b.height_mm), "height_mm");
    note(differ(a.gap_mm, b.gap_mm), "gap_mm");
    return fields;
}

/// The group of the other side that `group` ought to be like: the one whose name differs in the side alone,
/// else the only one of the same job and place.
const LampGroup* like_on_the_right(const LampGroup& group, const Lamps& lamps) {
    const std::string name = name_without_side(group.name);
    const LampGroup* only = nullptr;
    int count = 0;
    for (const LampGroup& other : lamps) {
        if (other.plays.side != Indication::right) continue;
        if (!name.empty() && name_without_side(other.name) == name) return &other;
        if (other.plays.job != group.plays.job || other.at != group.at) continue;
        only = &other;
        ++count;
    }
    return count == 1 ? only : nullptr;
}

constexpr std::string_view jobs[] = {"turn", "stop", "tail", "marker"}; // as core::Job goes

std::string_view job_name(core::Job job) {
    return jobs[static_cast<std::size_t>(job)];
}

void find_name(const Lamps& lamps, std::size_t place, std::vector<LampContradiction>& found) {
    const LampGroup& group = lamps[place];
    const Said said = said_by_name(group.name);
    const auto tell = [&](std::string_view says, const char* field, std::string_view value) {
        found.push_back({LampContradiction::Kind::name, place, place_of(group),
                         fmt::format("lamps {}: the name says {}, but {} = \"{}\"; one of them is wrong",
                                     group.name, says, field, value)});
    };
    if (said.side && *said.side != group.plays.side)
        tell(side_name(*said.side), "side", side_name(group.plays.side));
    if (said.at && group.at && *said.at != *group.at) tell(end_name(*said.at), "at", end_name(*group.at));
    if (said.job && *said.job != group.plays.job) tell(job_name(*said.job), "job", job_name(group.plays.job));
}

} // namespace

std::vector<std::string> name_words(std::string_view name) {
    std::vector<std::string> words(1);
    for (const char c : name) {
        const char small = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        const bool is_part =
            (small >= 'a' && small <= 'z') || (small >= '0' && small <= '9') || (small & 0x80);
        if (is_part)
            words.back() += small;
        else if (!words.back().empty())
            words.emplace_back();
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

Said said_by_name(std::string_view name) {
    const std::vector<std::string> words = name_words(name);
    const auto either = [&](std::initializer_list<std::string_view> one,
                            std::initializer_list<std::string_view> two) {
        const auto any = [&](const auto& list) {
            return std::any_of(list.begin(), list.end(), [&](auto word) { return has_word(words, word); });
        };
        return any(one) == any(two) ? 0 : any(one) ? 1 : 2;
    };
    Said said;
    if (const int side = either({"left", "lh"}, {"right", "rh"}); side != 0)
        said.side = side == 1 ? Indication::left : Indication::right;
    if (const int at = either({"front"}, {"rear", "back"}); at != 0)
        said.at = at == 1 ? LampEnd::front : LampEnd::rear;
    constexpr std::pair<std::string_view, core::Job> job_words[] = {{"turn", core::Job::turn},
                                                                    {"indicator", core::Job::turn},
                                                                    {"stop", core::Job::stop},
                                                                    {"brake", core::Job::stop},
                                                                    {"marker", core::Job::marker}};
    int spoken = 0;
    for (const auto& [word, job] : job_words)
        if (has_word(words, word) && said.job != job) {
            said.job = job;
            ++spoken;
        }
    if (spoken > 1 || has_word(words, "tail")) said.job.reset(); // a tail light may be a stop group, dimmed
    return said;
}

std::string_view side_name(Indication side) {
    constexpr std::string_view names[] = {"off", "left", "right", "both"};
    return names[static_cast<std::size_t>(side)];
}

std::string_view end_name(LampEnd end) {
    return end == LampEnd::front ? "front" : "rear";
}

std::vector<LampContradiction> contradictions_of(const Lamps& lamps) {
    struct Sides {
        int left{0};
        int right{0};
        std::size_t last{0};
    };
    Sides of_job[std::size(jobs)];
    std::vector<LampContradiction> found;
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        const LampGroup& group = lamps[i];
        find_name(lamps, i, found);
        const auto job = static_cast<std::size_t>(group.plays.job);
        if ((group.plays.job == core::Job::stop || group.plays.job == core::Job::tail) &&
            group.at == LampEnd::front && !said_by_name(group.name).at) // a name that says another is told
            found.push_back({LampContradiction::Kind::name, i, place_of(group),
                             fmt::format("lamps {}: job = \"{}\", but at = \"front\"; one of them is wrong",
                                         group.name, jobs[job])});
        Sides& sides = of_job[job];
        sides.left += group.plays.side == Indication::left ? 1 : 0;
        sides.right += group.plays.side == Indication::right ? 1 : 0;
        sides.last = i;
        if (group.plays.side != Indication::left) continue;
        const LampGroup* const like = like_on_the_right(group, lamps);
        if (like == nullptr) continue;
        if (const std::vector<std::string> fields = differences(group, *like); !fields.empty())
            found.push_back({LampContradiction::Kind::sides, static_cast<std::size_t>(like - lamps.data()),
                             place_of(*like),
                             fmt::format("lamps {} and {} are not alike: {}; the bike would look lopsided",
                                         group.name, like->name, joined(fields, ", "))});
    }
    for (std::size_t job = 0; job < std::size(jobs); ++job)
        if (const Sides& sides = of_job[job]; sides.left != sides.right)
            found.push_back({LampContradiction::Kind::sides, sides.last, place_of(lamps[sides.last]),
                             fmt::format("{} group{} of {} lamps on the left, {} on the right", sides.left,
                                         sides.left == 1 ? "" : "s", jobs[job], sides.right)});
    return found;
}

std::vector<std::string> lamp_warnings(const Lamps& lamps) {
    std::vector<std::string> warnings;
    for (const LampContradiction& one : contradictions_of(lamps))
        warnings.push_back(legible(fmt::format("{}: {}", one.where, one.text)));
    return warnings;
}

} // namespace winkhold::bike
