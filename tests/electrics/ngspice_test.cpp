// Crossing times of random networks under random waveforms, against ngspice (Debian), a circuit simulator
// that steps through time.
#include "program/run.hpp"
#include "winkhold/measure/waveform/detail/input_stage.hpp"
#include "winkhold/measure/waveform/random.hpp"

#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <sstream>

namespace winkhold::testing {
namespace {

using host::InputNetwork;
using host::InputStage;
using host::RandomStream;

/// One stretch of the line.
struct Stretch {
    enum Kind { held, falling, let_go };

    Kind kind;
    double from_us;
    double to_us;
    double volts;    ///< held: at; falling: from
    double toward_v; ///< falling
    double tau_us;   ///< falling
};

struct Case {
    InputNetwork network;
    double dark_ohm; ///< infinite: nothing holds a let-go line
    double dark_v;
    std::vector<Stretch> stretches;

    double end_us() const { return stretches.back().to_us; }
};

double between(double least, double most, RandomStream& random) {
    return least + (most - least) * random.unit();
}
double decades(double least, double most, RandomStream& random) {
    return std::exp(between(std::log(least), std::log(most), random));
}

Case draw_case(std::uint64_t number) {
    RandomStream random(4, number);
    Case drawn;
    InputNetwork& n = drawn.network;
    n.top_ohm = decades(10e3, 220e3, random);
    n.bottom_ohm = n.top_ohm * decades(0.2, 1, random);
    const double tau_us = decades(100, 5'000, random);
    n.capacitor_f = tau_us * 1e-6 / (n.top_ohm * n.bottom_ohm / (n.top_ohm + n.bottom_ohm));
    const double lit_v = n.bottom_ohm / (n.top_ohm + n.bottom_ohm) * 14;
    n.rise_v = lit_v * between(0.3, 0.7, random);
    n.fall_v = n.rise_v * between(0.4, 0.9, random);
    if (random.unit() < 0.5) n.clamp_v = n.rise_v * between(1.05, 1.6, random);
    const double kind = random.unit();
    drawn.dark_ohm = kind < 0.3 ? std::numeric_limits<double>::infinity() : decades(300, 50e3, random);
    drawn.dark_v = kind < 0.6 ? 0 : between(0, 4, random);
    double now_us = 0;
    for (int i = 0; i < 14; ++i) {
        const double to_us = now_us + tau_us * decades(0.5, 8, random);
        auto what = Stretch::let_go;
        double from_v = 0;
        if (i % 2 == 1) {
            what = Stretch::held;
            from_v = between(9, 16, random);
        } else if (i > 0 && random.unit() < 0.5) {
            what = Stretch::falling;
            from_v = drawn.stretches.back().volts;
        }
        drawn.stretches.push_back(
            {what, now_us, to_us, from_v, between(0, 2, random), tau_us * decades(0.1, 5, random)});
        now_us = to_us;
    }
    return drawn;
}

std::vector<host::LevelChange> computed(const Case& c) {
    const InputNetwork& n = c.network;
    InputStage stage({.stiff = host::low_pass(n),
                      .dark = host::low_pass(n, c.dark_ohm),
                      .clamp_v = n.clamp_v,
                      .on_above_v = n.rise_v,
                      .off_below_v = n.fall_v},
                     c.dark_v, host::low_pass(n, c.dark_ohm));
    for (const Stretch& s : c.stretches) {
        if (s.kind == Stretch::falling)
            stage.fall(s.from_us, s.to_us, s.volts, s.toward_v, s.tau_us);
        else if (s.kind == Stretch::held)
            stage.hold(s.from_us, s.to_us, s.volts, stage.design().stiff);
        else
            stage.hold(s.from_us, s.to_us, c.dark_v, stage.design().dark);
    }
    return stage.changes();
}

/// The line as a source that follows an expression of time, a switch that lets it go, and what holds it then.
std::string netlist(const Case& c, const std::string& output) {
    std::string volts;
    std::string closed = "0 0";
    double least_tau_us = 1e9;
    for (const Stretch& s : c.stretches) {
        volts += fmt::format("time < {:.12g}u ? ", s.to_us);
        if (s.kind == Stretch::falling) {
            volts += fmt::format("{:.12g} + {:.12g}*exp(-(time - {:.12g}u)/{:.12g}u) : ", s.toward_v,
                                 s.volts - s.toward_v, s.from_us, s.tau_us);
            least_tau_us = std::min(least_tau_us, s.tau_us);
        } else {
            volts += fmt::format("{:.12g} : ", s.volts);
        }
        const int stiff = s.kind == Stretch::let_go ? 0 : 1;
        if (s.from_us > 0) closed += fmt::format(" {:.12g}u {}", s.from_us + 1e-3, stiff);
        closed += fmt::format(" {:.12g}u {}", s.to_us, stiff);
    }
    const InputNetwork& n = c.network;
    const host::LowPass dark = host::low_pass(n, c.dark_ohm);
    least_tau_us = std::min(least_tau_us, host::low_pass(n).tau_us);
    std::string text =
        fmt::format("front end\n"
                    "Bsource source 0 V = {}0\n"
                    "Vclosed closed 0 PWL({})\n"
                    "Bstiff source line I = (V(source) - V(line))*100*V(closed)\n"
                    "Rtop line pin {:.12g}\n"
                    "Rbottom pin 0 {:.12g}\n"
                    "Ccap pin 0 {:.12g} IC={:.12g}\n",
                    volts, closed, n.top_ohm, n.bottom_ohm, n.capacitor_f, dark.gain * c.dark_v);
    if (std::isfinite(c.dark_ohm))
        text += fmt::format("Vdark dark 0 {:.12g}\n"
                            "Bdark dark line I = (V(dark) - V(line))/{:.12g}*(1 - V(closed))\n",
                            c.dark_v, c.dark_ohm);
    if (std::isfinite(n.clamp_v))
        text += fmt::format("Bclamp pin 0 I = V(pin) > {0:.12g} ? (V(pin) - {0:.12g})*100 : 0\n", n.clamp_v);
    return text + fmt::format(".options reltol=1e-6 abstol=1e-14 vntol=1e-9 chgtol=1e-18 trtol=1 gmin=1e-15\n"
                              ".control\n"
                              "set filetype=ascii\nset numdgt=12\nset wr_singlescale\n"
                              "tran 1u {:.12g}u 0 {:.12g}u uic\nwrdata {} v(pin)\nquit\n.endc\n.end\n",
                              c.end_us(), least_tau_us / 200, output);
}

/// Crossings in us of a hysteresis from low, straight lines between the simulator's steps.
std::vector<double> crossings(std::istream& samples, const InputNetwork& network) {
    std::vector<double> found;
    double before_us = 0;
    double before_v = 0;
    bool high = false;
    double at_s = 0;
    double at_v = 0;
    while (samples >> at_s >> at_v) {
        const double at_us = at_s * 1e6;
        const double threshold_v = high ? network.fall_v : network.rise_v;
        if (high ? at_v < threshold_v : at_v > threshold_v) {
            found.push_back(before_us + (at_us - before_us) * (threshold_v - before_v) / (at_v - before_v));
            high = !high;
        }
        before_us = at_us;
        before_v = at_v;
    }
    return found;
}

TEST(Ngspice, FindsTheSameCrossingsInFiftyRandomNetworks) {
    const Scratch scratch;
    std::size_t compared = 0;
    double worst_us = 0;
    for (std::uint64_t number = 0; number < 50; ++number) {
        const Case drawn = draw_case(number);
        const std::string output = scratch.path("pin.data");
        const std::string circuit = scratch.write("circuit.cir", netlist(drawn, output));
        const std::string command = "ngspice -b '" + circuit + "' >'" + scratch.path("log") + "' 2>&1";
        ASSERT_EQ(std::system(command.c_str()), 0) << "ngspice is missing or failed:\n"
                                                   << scratch.read("log");
        std::istringstream samples(scratch.read("pin.data"));
        const std::vector<double> simulated = crossings(samples, drawn.network);
        const std::vector<host::LevelChange> ours = computed(drawn);
        std::filesystem::remove(output);
        ASSERT_EQ(ours.size(), simulated.size()) << "network " << number << "\n" << scratch.read("log");
        for (std::size_t i = 0; i < ours.size(); ++i) {
            double since_us = 0;
            for (const Stretch& s : drawn.stretches)
                if (s.from_us <= simulated[i]) since_us = simulated[i] - s.from_us;
            // ours are rounded up to whole microseconds
            EXPECT_NEAR(static_cast<double>(ours[i].t_us) - 0.5, simulated[i],
                        std::max(1.0, 0.001 * since_us))
                << "network " << number << ", crossing " << i;
            worst_us = std::max(worst_us, std::abs(static_cast<double>(ours[i].t_us) - 0.5 - simulated[i]));
            ++compared;
        }
    }
    EXPECT_GT(compared, 300u);
    fmt::print("{} crossings, worst difference {:.2f} us, of which 0.5 are ours to round\n", compared,
               worst_us);
}

} // namespace
} // namespace winkhold::testing
