#include "waveform/line_volts.hpp"

#include "waveform/input_stage.hpp"

#include <algorithm>

namespace winkhold::host {
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

class Lines {
public:
    Lines(const LineVolts& model, double supply_v, RandomStream& random)
        : tau_us_(draw(model.fall_tau_us, random)), dark_v_(draw(model.dark_v, random)),
          cross_feed_(draw(model.cross_feed, random)), design_{draw(model.clamp_v, random),
                                                               static_cast<double>(model.filter_tau_us),
                                                               model.on_above_v, model.off_below_v},
          supply_v_(supply_v),
          supply_input_(design_, supply_v), inputs_{InputStage(design_, std::min(dark_v_, supply_v)),
                                                    InputStage(design_, std::min(dark_v_, supply_v))},
          node_v_{std::min(dark_v_, supply_v), std::min(dark_v_, supply_v)} {}

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
        supply_input_.hold(from_us, to_us, supply_v_);
        for (int side = 0; side < 2; ++side)
            tap(side, from_us, to_us);
    }

    std::vector<LevelChange>& changes(int side) { return inputs_[side].changes(); }
    std::vector<LevelChange>& supply_changes() { return supply_input_.changes(); }

private:
    void tap(int side, double from_us, double to_us) {
        const bool driven = driven_[side] && !cut_[side];
        const bool fed = driven_[1 - side] && !cut_[1 - side] && !cut_[side];
        const double dark_v = cut_[side] ? 0 : std::min(dark_v_, supply_v_);
        const double goal_v = driven ? supply_v_ : std::max(dark_v, fed ? cross_feed_ * supply_v_ : 0);
        double& node_v = node_v_[side];
        if (driven || tau_us_ <= 0 || goal_v >= node_v) { // a closed contact follows the supply at once
            node_v = goal_v;
            return inputs_[side].hold(from_us, to_us, node_v + spike_v_);
        }
        inputs_[side].fall(from_us, to_us, node_v + spike_v_, goal_v + spike_v_, tau_us_);
        node_v = goal_v + (node_v - goal_v) * std::exp(-(to_us - from_us) / tau_us_);
    }

    double tau_us_;
    double dark_v_;
    double cross_feed_;
    InputStage::Design design_;
    double supply_v_;
    double spike_v_{0};
    InputStage supply_input_;
    InputStage inputs_[2];
    double node_v_[2]; ///< before spikes and the input stage
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

} // namespace winkhold::host
