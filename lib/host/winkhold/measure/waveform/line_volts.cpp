#include "winkhold/measure/waveform/detail/line_volts_draw.hpp"

#include "winkhold/measure/waveform/detail/input_stage.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

/// Something that changes a voltage.
struct Event {
    enum What { left, right, supply, spike, cut_left, cut_right, brake, second_brake };

    double t_us;
    What what;
    double value; ///< driven or not, or volts
};

std::vector<Event> spikes(const LineVolts& model, double end_us, RandomStream& random) {
    std::vector<Event> events;
    const double per_s = draw(model.spikes_per_s, random);
    if (per_s <= 0) return events;
    const double period_us = 1e6 / per_s; // an engine turns evenly for as long as this matters
    for (double t_us = random.unit() * period_us; t_us < end_us; t_us += period_us) {
        events.push_back({t_us, Event::spike, draw(model.spike_v, random)});
        events.push_back({t_us + std::min(draw(model.spike_us, random), period_us), Event::spike, 0});
    }
    return events;
}

double spread(double nominal, double percent, RandomStream& random) {
    return draw(Range{nominal * (1 - percent / 100), nominal * (1 + percent / 100)}, random);
}

/// One channel's parts; scenario_of() has seen to it that all of them are known.
InputStage::Design channel(const FrontEnd& front_end, TappedLine line, RandomStream& random) {
    InputNetwork parts = front_end.nominal().value();
    parts.top_ohm = spread(parts.top_ohm, front_end.resistor_percent, random);
    parts.bottom_ohm = spread(parts.bottom_ohm, front_end.resistor_percent, random);
    parts.capacitor_f = spread(parts.capacitor_f, front_end.capacitor_percent, random);
    const Thresholds thresholds = front_end.thresholds().value();
    const double rise_v = draw(thresholds.rise_v, random);
    const double fall_v = std::min(draw(thresholds.fall_v, random), rise_v);
    return {.stiff = low_pass(parts),
            .dark = low_pass(parts, front_end.let_go(line).ohm()),
            .clamp_v = draw(front_end.clamp_volts().value(), random),
            .on_above_v = rise_v,
            .off_below_v = fall_v};
}

InputStage::Design plain(const LineVolts& model, double saturation_v) {
    const LowPass low_pass{1, static_cast<double>(model.filter_tau_us)};
    return {.saturation_v = saturation_v,
            .stiff = low_pass,
            .dark = low_pass,
            .on_above_v = model.on_above_v,
            .off_below_v = model.off_below_v};
}

class Lines {
public:
    Lines(const LineVolts& model, double supply_v, bool tail, RandomStream& random)
        : front_end_(model.front_end), tau_us_(draw(model.fall_tau_us, random)),
          dark_v_(draw(model.dark_v, random)), cross_feed_(draw(model.cross_feed, random)),
          saturation_v_(draw(model.clamp_v, random)), supply_v_(supply_v) {
        switch_on_[switch_of(TappedLine::tail)] = tail;
        const auto design = [&](TappedLine line) {
            return front_end_ ? channel(*front_end_, line, random) : plain(model, saturation_v_);
        };
        for (const int side : {0, 1}) {
            const InputStage::Design tap = design(side_lines[side]);
            const Source dark = let_go(side, tap, false);
            node_v_[side] = dark.volts;
            inputs_.emplace_back(tap, dark.volts, dark.through);
        }
        const InputStage::Design supply = design(TappedLine::supply);
        inputs_.emplace_back(supply, supply_v, supply.stiff);
        for (const TappedLine line : switched_lines) {
            const InputStage::Design tap = design(line);
            const Source dark = switched(line, tap);
            inputs_.emplace_back(tap, dark.volts, dark.through);
        }
    }

    void take(const Event& event) {
        switch (event.what) {
        case Event::left:
        case Event::right:
            driven_[event.what == Event::right] = event.value != 0;
            break;
        case Event::supply:
            supply_v_ = event.value;
            break;
        case Event::spike:
            spike_v_ = event.value;
            break;
        case Event::cut_left:
        case Event::cut_right:
            cut_[event.what == Event::cut_right] = true;
            break;
        case Event::brake:
        case Event::second_brake:
            switch_on_[event.what - Event::brake] = event.value != 0;
            break;
        }
    }

    void run(double from_us, double to_us) {
        if (from_us >= to_us) return;
        InputStage& supply = inputs_[supply_input];
        supply.hold(from_us, to_us, supply_v_, supply.design().stiff);
        for (int side = 0; side < 2; ++side)
            tap(side, from_us, to_us);
        for (const TappedLine line : switched_lines) {
            InputStage& input = inputs_[input_of(line)];
            const Source source = switched(line, input.design());
            input.hold(from_us, to_us, source.volts, source.through);
        }
    }

    /// What the tap of this line has read.
    std::vector<LevelChange> changes(TappedLine line) {
        std::vector<LevelChange> changes = std::move(inputs_[input_of(line)].changes());
        if (is_active_low(line)) invert(changes);
        return changes;
    }

private:
    static constexpr int supply_input = 2;
    static constexpr TappedLine side_lines[] = {TappedLine::left, TappedLine::right};
    static constexpr TappedLine switched_lines[] = {TappedLine::brake, TappedLine::second_brake,
                                                    TappedLine::tail};

    struct Source {
        double volts;
        LowPass through;
    };

    static std::size_t input_of(TappedLine line) {
        if (line == TappedLine::supply) return supply_input;
        const auto place = static_cast<std::size_t>(line);
        return line < TappedLine::brake ? place : place + 1;
    }
    static std::size_t switch_of(TappedLine line) {
        return static_cast<std::size_t>(line) - static_cast<std::size_t>(TappedLine::brake);
    }

    bool is_active_low(TappedLine line) const { return front_end_ && front_end_->is_active_low(line); }

    /// Low means lit.
    static void invert(std::vector<LevelChange>& changes) {
        if (!changes.empty() && changes.front().t_us == 0)
            changes.erase(changes.begin());
        else
            changes.insert(changes.begin(), {0, false});
        for (LevelChange& change : changes)
            change.high = !change.high;
    }

    /// A turn line that neither lamp switch nor cross-feed holds. Volts that a scenario gives are stiff.
    Source let_go(int side, const InputStage::Design& design, bool cut) const {
        const TappedLine line = side_lines[side];
        if (is_active_low(line)) return {cut ? 0 : supply_v_, design.stiff}; // through its lamp
        if (front_end_ && dark_v_ == 0)
            return {cut ? 0 : front_end_->let_go(line).volts(supply_v_), design.dark};
        return {cut ? 0 : std::min(dark_v_, supply_v_), design.stiff};
    }

    /// Brake and tail: the switch brings the supply, or ground to a line that its lamp holds up.
    Source switched(TappedLine line, const InputStage::Design& design) const {
        const bool on = switch_on_[switch_of(line)];
        if (is_active_low(line)) return {on ? 0 : supply_v_, design.stiff};
        return on ? Source{supply_v_, design.stiff} : Source{0, design.dark};
    }

    void tap(int side, double from_us, double to_us) {
        const bool driven = driven_[side] && !cut_[side];
        const bool fed = driven_[1 - side] && !cut_[1 - side] && !cut_[side];
        const InputStage::Design& design = inputs_[side].design();
        Source goal = let_go(side, design, cut_[side]);
        if (is_active_low(side_lines[side])) {
            if (driven) goal.volts = 0;
            return inputs_[side].hold(from_us, to_us, goal.volts + spike_v_, goal.through);
        }
        const double fed_v = fed ? cross_feed_ * supply_v_ : 0;
        if (driven || fed_v > goal.volts) goal = {driven ? supply_v_ : fed_v, design.stiff};
        if (spike_v_ != 0) goal.through = design.stiff; // what couples in is stiff
        double& node_v = node_v_[side];
        if (driven || tau_us_ <= 0 || goal.volts >= node_v) { // a closed contact follows the supply at once
            node_v = goal.volts;
            return inputs_[side].hold(from_us, to_us, node_v + spike_v_, goal.through);
        }
        inputs_[side].fall(from_us, to_us, node_v + spike_v_, goal.volts + spike_v_, tau_us_);
        node_v = goal.volts + (node_v - goal.volts) * std::exp(-(to_us - from_us) / tau_us_);
    }

    std::optional<FrontEnd> front_end_;
    double tau_us_;
    double dark_v_;
    double cross_feed_;
    double saturation_v_;
    double supply_v_;
    double spike_v_{0};
    std::vector<InputStage> inputs_; ///< left, right, supply, both brakes, tail
    double node_v_[2]{};             ///< before spikes and the input stage
    bool driven_[2]{};
    bool switch_on_[3]{}; ///< both brakes, tail
    bool cut_[2]{};       ///< the ignition has let go of this line
};

} // namespace

std::vector<LevelChange> either(const std::vector<LevelChange>& one, const std::vector<LevelChange>& other) {
    std::vector<LevelChange> changes;
    bool up[2]{};
    for (std::size_t i = 0, j = 0; i < one.size() || j < other.size();) {
        const bool first = j == other.size() || (i < one.size() && one[i].t_us <= other[j].t_us);
        const bool was = up[0] || up[1];
        const LevelChange& next = first ? one[i++] : other[j++];
        up[first ? 0 : 1] = next.high;
        if ((up[0] || up[1]) == was) continue;
        if (!changes.empty() && changes.back().t_us == next.t_us)
            changes.pop_back(); // one lets go as the other takes hold
        else
            changes.push_back({next.t_us, !was});
    }
    return changes;
}

void read_volts(const LineVolts& model, TimeUs key_off_us, TimeUs end_us, RandomStream& random,
                const TapChanges& taps) {
    const auto until_us = static_cast<double>(end_us);
    const std::vector<SupplyStep> steps = draw_supply(model, key_off_us, end_us, random);
    std::vector<Event> events = spikes(model, until_us, random);
    for (const SupplyStep& step : steps)
        events.push_back({step.t_us, Event::supply, step.volts});
    const auto add = [&](const std::vector<LevelChange>& changes, Event::What what) {
        for (const LevelChange& change : changes)
            events.push_back({static_cast<double>(change.t_us), what, change.high ? 1.0 : 0.0});
    };
    const auto cut = [&](Event::What what) {
        if (key_off_us > 0)
            events.push_back({static_cast<double>(key_off_us) +
                                  random.unit() * static_cast<double>(model.key_off_spread_us),
                              what, 0});
    };
    add(taps.left, Event::left);
    cut(Event::cut_left);
    add(taps.right, Event::right);
    cut(Event::cut_right);
    const bool apart = model.front_end && model.front_end->second_brake;
    add(apart ? taps.brakes[0] : either(taps.brakes[0], taps.brakes[1]), Event::brake);
    if (apart) add(taps.brakes[1], Event::second_brake);
    std::stable_sort(events.begin(), events.end(),
                     [](const Event& a, const Event& b) { return a.t_us < b.t_us; });
    Lines lines(model, steps.front().volts, !taps.tail.empty(), random);
    double now_us = 0;
    for (const Event& event : events) {
        if (event.t_us >= until_us) break;
        lines.run(now_us, event.t_us);
        now_us = event.t_us;
        lines.take(event);
    }
    lines.run(now_us, until_us);
    taps.left = lines.changes(TappedLine::left);
    taps.right = lines.changes(TappedLine::right);
    taps.supply = lines.changes(TappedLine::supply);
    taps.brakes[0] = lines.changes(TappedLine::brake);
    taps.brakes[1] = apart ? lines.changes(TappedLine::second_brake) : std::vector<LevelChange>{};
    taps.tail = lines.changes(TappedLine::tail);
}

} // namespace winkhold::measure
