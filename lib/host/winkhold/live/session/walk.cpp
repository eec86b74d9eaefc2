#include "winkhold/live/session/walk.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/base/output_file.hpp"
#include "winkhold/base/vehicle/detail/toml_text.hpp"
#include "winkhold/bike/checklist/measured.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace winkhold::live {
namespace {

using core::Indication;
using core::Lines;
using core::Side;

enum Step : std::size_t { left, right, hazard, hazard_in_turn, brake_in_turn, lights, key_off, wet };

struct Words {
    std::string_view asks;
    std::string_view question; ///< empty: the board's answer is all there is to know
    std::string_view what;     ///< the checklist's point of yes or no
};

constexpr Words steps[] = {
    {"Engine idling: turn left on, for ten flashes.", "Left lamps and no others, front and rear?",
     "left-lamps"},
    {"Now turn right, for ten flashes.", "Right lamps and no others, front and rear?", "right-lamps"},
    {"Now hazard, for ten flashes.", "All turn lamps, front and rear?", "hazard-lamps"},
    {"Turn left on, then hazard on and off again; leave left on.",
     "Both sides, and then the left one alone again?", "hazard-in-turn"},
    {"Turn left on and brake, lever and pedal each.",
     "Stop lamps at once, alone and while either side or hazard flashes?", "stop-lamps"},
    {"Lights on, or key off and on if they follow the key.", "Tail light on?", "tail-lamps"},
    {"Key off while left flashes, then key on again.", "All lamps dark with the key, and dark they stayed?",
     "key-off"},
    {"Nothing on, and the harness sprayed wet: wait ten seconds.", "", ""},
};

constexpr int enough_flashes = 10;
constexpr TimeUs dark_us = 10'000'000;

Side side_of(std::size_t step) {
    return step == right ? Side::right : Side::left;
}

std::string ms(TimeUs us) {
    return fmt::format("{:.1f} ms", static_cast<double>(us) / 1e3);
}

} // namespace

Walk::Walk(Session& session) : session_(session) {
    static_assert(std::size(steps) == step_count);
    session_.on_edge([this](const Edge& one) { edge(one); });
    session_.on_indication([this](const IndicationChange& change) { indication(change); });
}

std::string_view Walk::asks() const {
    return is_done() ? std::string_view() : steps[step_].asks;
}

std::string_view Walk::question() const {
    return is_done() || !waits_for_word_ ? std::string_view() : steps[step_].question;
}

void Walk::next() {
    ++step_;
    waits_for_word_ = saw_hazard_ = false;
    rises_ = 0;
    note_.clear();
    turn_ = Indication::off;
    began_us_.reset();
}

void Walk::answered(std::string note) {
    note_ = std::move(note);
    waits_for_word_ = true;
}

void Walk::yes() {
    if (question().empty()) return;
    findings_.push_back({std::string(steps[step_].what), {}, true, note_});
    next();
}

void Walk::no() {
    if (question().empty()) return;
    findings_.push_back({std::string(steps[step_].what), {}, false, note_});
    next();
}

void Walk::skip() {
    if (!is_done()) next();
}

void Walk::rate(Side side, std::string_view what) {
    const FlashFigures& flashes = session_.state().flashes[static_cast<std::size_t>(side)];
    const auto per_min = flashes.per_min();
    if (!per_min) return;
    const std::string note =
        fmt::format("board: on {} to {}, dark {} to {}", ms(flashes.on.least_us), ms(flashes.on.most_us),
                    ms(flashes.dark.least_us), ms(flashes.dark.most_us));
    findings_.push_back({std::string(what), *per_min, {}, note});
}

void Walk::edge(const Edge& edge) {
    const auto rose = static_cast<std::uint8_t>(edge.lines.bits() & ~before_.bits());
    const auto fell = static_cast<std::uint8_t>(before_.bits() & ~edge.lines.bits());
    before_ = edge.lines;
    if (is_done() || waits_for_word_) return;
    const Indication shown = session_.state().shown.value_or(Indication::off);
    switch (step_) {
    case left:
    case right:
    case hazard: {
        const Side side = side_of(step_);
        const Indication asked = step_ == hazard ? Indication::hazard
                                 : step_ == left ? Indication::left
                                                 : Indication::right;
        if ((rose & core::Sides(side).bits()) == 0) return;
        rises_ = shown == asked ? rises_ + 1 : 0;
        if (rises_ <= enough_flashes) return;
        rate(side, step_ == hazard ? "hazard-rate-per-min"
                   : step_ == left ? "left-rate-per-min"
                                   : "right-rate-per-min");
        return answered(fmt::format("board showed {} through {} flashes", name(asked), enough_flashes));
    }
    case hazard_in_turn:
        if ((rose & Lines::right) != 0 && shown == Indication::left && !began_us_) began_us_ = edge.t_us;
        return;
    case brake_in_turn:
        if ((rose & Lines::brake) != 0 && shown == Indication::left)
            answered("board: the brake tap rose while it showed left");
        return;
    case lights:
        if ((rose & Lines::tail) != 0) answered("board: the tail tap rose");
        return;
    case key_off:
        if ((fell & Lines::supply) != 0 && shown != Indication::off) began_us_ = edge.t_us;
        return;
    default:
        began_us_.reset(); // something was lit: wait anew
    }
}

void Walk::indication(const IndicationChange& change) {
    if (is_done() || waits_for_word_) return;
    if (step_ == hazard_in_turn) {
        if (change.indication == Indication::hazard && turn_ == Indication::left) {
            saw_hazard_ = true;
            hazard_after_us_ = began_us_ ? change.t_us - *began_us_ : 0;
        }
        if (change.indication == Indication::left) {
            if (saw_hazard_)
                answered(fmt::format("board: hazard {} after the right tap rose, then left again",
                                     ms(hazard_after_us_)));
            turn_ = Indication::left;
        }
        if (change.indication == Indication::off || change.indication == Indication::right) {
            turn_ = Indication::off;
            saw_hazard_ = false;
            began_us_.reset();
        }
    }
    if (step_ == key_off && change.indication == Indication::off && began_us_)
        answered(fmt::format("board: off {} after the supply fell", ms(change.t_us - *began_us_)));
}

void Walk::passed() {
    if (step_ != wet) return;
    const auto now_us = session_.state().now_us;
    if (!now_us) return;
    const std::uint8_t turns = Lines::left | Lines::right | Lines::brake;
    if ((before_.bits() & turns) != 0)
        began_us_.reset();
    else if (!began_us_)
        began_us_ = now_us;
    else if (*now_us - *began_us_ >= dark_us)
        next();
}

std::string write_measured(const std::string& path, const std::vector<WalkFinding>& findings,
                           std::string_view on) {
    const std::vector<Measurement> known = measurements_of(Vehicle::read(path));
    std::string added;
    for (const WalkFinding& one : findings) {
        if (std::any_of(known.begin(), known.end(),
                        [&](const Measurement& measured) { return measured.what == one.what; }))
            continue;
        added += fmt::format("\n[[measured]]\nwhat = \"{}\"\n", one.what);
        added += one.value ? fmt::format("value = {:.1f}\n", *one.value)
                           : fmt::format("done = {}\n", one.done.value_or(false));
        added += fmt::format("on = \"{}\"\nnote = \"{}\"\n", on, one.note);
    }
    if (added.empty()) return added;
    const std::string before = read_toml_text(path);
    const std::string after = before + (before.ends_with('\n') || before.empty() ? "" : "\n") + added;
    parse_toml_text(after, path);
    OutputFile file(path, OutputFile::Over::itself);
    file.stream() << after;
    file.finish();
    return added;
}

} // namespace winkhold::live
