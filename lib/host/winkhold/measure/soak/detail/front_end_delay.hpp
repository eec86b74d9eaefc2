/// How long a lamp's light takes to become a settled edge.
#pragma once

#include "winkhold/measure/soak/bike.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::measure {

/// What lies between a lamp and its settled edge, at most. Unit: us.
struct FrontEndDelay {
    explicit FrontEndDelay(const SoakRide& soak)
        : bounce_us(bounces_for_us(soak.scenario.contacts)), settle_us(soak.scenario.decoder.settle_us) {
        if (!soak.filtered) return;
        const LineVolts& volts = soak.scenario.volts;
        const auto tau_us = static_cast<double>(volts.filter_tau_us);
        const double lit_v = volts.supply_v.most;
        filter_rise_us = static_cast<TimeUs>(tau_us * std::log(lit_v / (lit_v - volts.on_above_v))) + 2;
        filter_fall_us = static_cast<TimeUs>(tau_us * std::log(lit_v / volts.off_below_v)) + 2;
    }
    TimeUs rise_us() const { return bounce_us + filter_rise_us + settle_us; }
    TimeUs last_high_us() const { return bounce_us + filter_fall_us; }
    /// Bounce may pass for settled flashes; the filter can stretch it.
    bool bounce_may_settle() const { return settle_us <= bounce_us + filter_rise_us; }

    /// Changes of a contact are at least 1 us apart, so many of them may take longer than bounce.
    static TimeUs bounces_for_us(const ContactModel& contacts) {
        return contacts.bounce_us == 0 ? 0 : std::max<TimeUs>(contacts.bounce_us, 2 * contacts.bounce_pulses);
    }

    TimeUs bounce_us;
    TimeUs settle_us;
    TimeUs filter_rise_us{0};
    TimeUs filter_fall_us{0};
};

} // namespace winkhold::measure
