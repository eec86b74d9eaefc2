// What a fit leaves open.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/measure/fit/report.hpp"

namespace winkhold::measure {
namespace {

std::string side_change_question(const SideChangeFit& fit) {
    if (fit.changes == 0)
        return "What the flasher does on a side change: none was recorded. Record a few direct changes from "
               "side to side, and sweep all three models until then.";
    std::string chances;
    for (const SideChange model : all_side_changes)
        chances += fmt::format("{}{} {:.0f} %", chances.empty() ? "" : ", ", name(model),
                               100 * fit.chance[static_cast<std::size_t>(model)]);
    return fmt::format("What the flasher does on a side change: {} recorded, not decisive ({}). Record more.",
                       fit.changes, chances);
}

} // namespace

std::vector<std::string> open_questions(const BikeFit& fit) {
    std::vector<std::string> questions;
    if (!fit.side_change.model) questions.emplace_back(side_change_question(fit.side_change));
    if (fit.side_change.cut == 0)
        questions.emplace_back(
            "How long the switch travels: no side change cut a light. The scenario takes 70 ms "
            "(common practice).");
    else
        questions.emplace_back(
            "Switch travel and the flasher's start delay can't be told apart; the scenario "
            "has both as travel.");
    if (!fit.rise_skew) questions.emplace_back("Skew of a hazard: fewer than three hazard flashes recorded.");
    if (!fit.bounce.like_model)
        questions.emplace_back(
            "Bounce: the rises don't fit evenly spread pulses; the figure is the worst rise's.");
    if (fit.seen.tick_us >= 1'000)
        questions.emplace_back(fmt::format("Bounce shorter than the recording's clock step of {}.",
                                           format_duration(fit.seen.tick_us)));
    if (fit.rhythm.on_count + fit.rhythm.dark_count < 12)
        questions.emplace_back(
            fmt::format("{} on and {} dark times: the intervals are wide, record more flashes.",
                        fit.rhythm.on_count, fit.rhythm.dark_count));
    questions.emplace_back("What input stage and lamps add to rise and fall is taken as the flasher's.");
    return questions;
}

} // namespace winkhold::measure
