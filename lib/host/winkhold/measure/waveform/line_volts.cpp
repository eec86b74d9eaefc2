#include "winkhold/measure/waveform/detail/line_volts_draw.hpp"

#include "winkhold/measure/waveform/detail/input_stage.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

/// Something that changes a voltage.
struct Event {
    enum What { left, right, supply, spike, cut_left, cut_right };

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

/// One channel's parts; read_scenario() has seen to it that all of them are known.
InputStage::Design channel(const FrontEnd& front_end, RandomStream& random) {
    InputNetwork parts = front_end.nominal().value();
    parts.top_ohm = spread(parts.top_ohm, front_end.resistor_percent, random);
    parts.bottom_ohm = spread(parts.bottom_ohm, front_end.resistor_percent, random);
    parts.capacitor_f = spread(parts.capacitor_f, front_end.capacitor_percent, random);
    const Thresholds thresholds = front_end.thresholds().value();
    const double rise_v = draw(thresholds.rise_v, random);
    const double fall_v = std::min(draw(thresholds.fall_v, random), rise_v);
    return {.stiff = low_pass(parts),
            .dark = low_pass(parts, front_end.dark_ohm()),
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
    Lines(const LineVolts& model, double supply_v, RandomStream& random)
        : front_end_(model.front_end), tau_us_(draw(model.fall_tau_us, random)),
          dark_v_(draw(model.dark_v, random)), cross_feed_(draw(model.cross_feed, random)),
          saturation_v_(draw(model.clamp_v, random)), supply_v_(supply_v) {
        const auto design = [&] {
            return front_end_ ? channel(*front_end_, random) : plain(model, saturation_v_);
        };
        for (double& node_v : node_v_) {
            const InputStage::Design tap = design();
            const Source dark = let_go(tap, false);
            node_v = dark.volts;
            inputs_.emplace_back(tap, dark.volts, dark.through);
        }
        const InputStage::Design supply = design();
        inputs_.emplace_back(supply, supply_v, supply.stiff);
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
        }
    }

    void run(double from_us, double to_us) {
        if (from_us >= to_us) return;
        InputStage& supply = inputs_[supply_input];
        supply.hold(from_us, to_us, supply_v_, supply.design().stiff);
        for (int side = 0; side < 2; ++side)
            tap(side, from_us, to_us);
    }

    std::vector<LevelChange>& changes(int side) { return inputs_[side].changes(); }
    std::vector<LevelChange>& supply_changes() { return inputs_[supply_input].changes(); }

private:
    static constexpr int supply_input = 2;

    struct Source {
        double volts;
        LowPass through;
    };

    /// A line that neither lamp switch nor cross-feed holds. Volts that a scenario gives are stiff.
    Source let_go(const InputStage::Design& design, bool cut) const {
        if (front_end_ && dark_v_ == 0) return {cut ? 0 : front_end_->dark_volts(supply_v_), design.dark};
        return {cut ? 0 : std::min(dark_v_, supply_v_), design.stiff};
    }

    void tap(int side, double from_us, double to_us) {
        const bool driven = driven_[side] && !cut_[side];
        const bool fed = driven_[1 - side] && !cut_[1 - side] && !cut_[side];
        const InputStage::Design& design = inputs_[side].design();
        Source goal = let_go(design, cut_[side]);
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
    std::vector<InputStage> inputs_; ///< left, right, supply
    double node_v_[2]{};             ///< before spikes and the input stage
    bool driven_[2]{};
    bool cut_[2]{}; ///< the ignition has let go of this line
};

} // namespace

void read_volts(const LineVolts& model, TimeUs key_off_us, TimeUs end_us, RandomStream& random,
                std::vector<LevelChange> (&taps)[2], std::vector<LevelChange>& supply) {
    const auto until_us = static_cast<double>(end_us);
    const std::vector<SupplyStep> steps = draw_supply(model, key_off_us, end_us, random);
    std::vector<Event> events = spikes(model, until_us, random);
    for (const SupplyStep& step : steps)
        events.push_back({step.t_us, Event::supply, step.volts});
    for (int side = 0; side < 2; ++side) {
        for (const LevelChange& change : taps[side])
            events.push_back({static_cast<double>(change.t_us), side == 0 ? Event::left : Event::right,
                              change.high ? 1.0 : 0.0});
        if (key_off_us > 0)
            events.push_back({static_cast<double>(key_off_us) +
                                  random.unit() * static_cast<double>(model.key_off_spread_us),
                              side == 0 ? Event::cut_left : Event::cut_right, 0});
    }
    std::stable_sort(events.begin(), events.end(),
                     [](const Event& a, const Event& b) { return a.t_us < b.t_us; });
    Lines lines(model, steps.front().volts, random);
    double now_us = 0;
    for (const Event& event : events) {
        if (event.t_us >= until_us) break;
        lines.run(now_us, event.t_us);
        now_us = event.t_us;
        lines.take(event);
    }
    lines.run(now_us, until_us);
    for (int side = 0; side < 2; ++side)
        taps[side] = std::move(lines.changes(side));
    supply = std::move(lines.supply_changes());
}

} // namespace winkhold::measure
