#include "winkhold/taps/inspect/detail/remarks.hpp"

#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"

namespace winkhold::taps {

using core::Side;

std::string polarity_remark(const Inspection& seen) {
    const auto low = [&](Side side) {
        return seen.lines[static_cast<std::size_t>(side)].polarity == Polarity::low_is_lit;
    };
    if (!seen.inverted()) return {};
    if (low(Side::left) && low(Side::right))
        return "Both lines rest high and flash low: read this recording with --active low (the other value, "
               "if "
               "you gave one).";
    const Side side = low(Side::left) ? Side::left : Side::right;
    const bool other_silent = seen.lines[static_cast<std::size_t>(core::other(side))].changes == 0;
    return other_silent ? fmt::format("The {} line rests high and flashes low: read this recording with "
                                      "--active low (the other value, if you gave one).",
                                      name(side))
                        : fmt::format("Only the {} line rests high and flashes low: the taps are not wired "
                                      "alike, or it is stuck between flashes.",
                                      name(side));
}

std::string noise_remark(const LineView& line, Side side) {
    if (!line.noise) return {};
    const Noise& noise = *line.noise;
    const std::int64_t count = line.pulses + line.breaks;
    std::string where;
    if (2 * noise.in_busiest > count || noise.in_busiest >= 4)
        where = fmt::format(", {} of {} from {:.1f} to {:.1f} s", noise.in_busiest, count,
                            ms(noise.busiest_from_us) / 1e3, ms(noise.busiest_to_us) / 1e3);
    const char* const look =
        line.breaks == 0 ? "They come while it is dark: look for a poor ground, a damp plug, ignition leads "
                           "next to this wire, a tap that hangs loose."
        : line.pulses == 0
            ? "They break its lights: look for a loose plug, a worn switch or relay contact, a "
              "chafed wire; wiggle them and record again."
            : "Lit ones in the dark and dark ones in the light: look for a loose plug, a "
              "chafed wire, a poor ground of tap or recorder; wiggle them and record again.";
    return fmt::format("The {} line is noisy: {:.3g} pulses a minute under 60 ms{}. {}", name(side),
                       noise.per_min, where, look);
}

} // namespace winkhold::taps
