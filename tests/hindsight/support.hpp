/// Traces and rides for the smoother's tests.
#pragma once

#include "temp.hpp"
#include "winkhold/measure/waveform/ride.hpp"
#include "winkhold/taps/hindsight/disagreements.hpp"
#include "winkhold/taps/hindsight/hindsight.hpp"

#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <gtest/gtest.h>
#include <unistd.h>

namespace winkhold::testing {

using core::Indication;
using host::TimeUs;

/// A trace written as moments and levels: left 1, right 2.
class TraceWriter {
public:
    /// From now on, until further notice.
    TraceWriter& level(int lit, TimeUs for_us) {
        trace_.edges.push_back({trace_.end_us, core::Lines(static_cast<std::uint8_t>(lit))});
        trace_.end_us += for_us;
        return *this;
    }
    TraceWriter& flashes(int side, int count, TimeUs on_us, TimeUs dark_us) {
        for (int i = 0; i < count; ++i)
            level(side, on_us).level(0, dark_us);
        return *this;
    }
    TimeUs now_us() const { return trace_.end_us; }
    const host::Trace& trace() const { return trace_; }

private:
    host::Trace trace_;
};

/// A scenario of data/scenarios with another flasher.
inline host::Scenario scenario(const std::string& base, const std::string& side_change, int jitter_percent) {
    const testing::TempFile file(fmt::format("[vehicle]\nfile = \"{}/scenarios/{}.toml\"\n"
                                             "[flasher]\nside_change = \"{}\"\njitter_percent = {}\n",
                                             WINKHOLD_DATA, base, side_change, jitter_percent));
    host::Scenario scenario = host::scenario_of(host::Vehicle::read(file.path()));
    return scenario;
}

/// Time in which two timelines differ.
inline TimeUs differing_us(const host::Timeline& a, const host::Timeline& b, TimeUs end_us) {
    TimeUs sum_us = 0;
    std::size_t i = 0;
    std::size_t j = 0;
    for (TimeUs t_us = 0; t_us < end_us;) {
        while (i < a.size() && a[i].t_us <= t_us)
            ++i;
        while (j < b.size() && b[j].t_us <= t_us)
            ++j;
        const TimeUs next_us =
            std::min({end_us, i < a.size() ? a[i].t_us : end_us, j < b.size() ? b[j].t_us : end_us});
        const auto show = [](const host::Timeline& timeline, std::size_t next) {
            return next == 0 ? Indication::off : timeline[next - 1].indication;
        };
        if (show(a, i) != show(b, j)) sum_us += next_us - t_us;
        t_us = next_us;
    }
    return sum_us;
}

} // namespace winkhold::testing
