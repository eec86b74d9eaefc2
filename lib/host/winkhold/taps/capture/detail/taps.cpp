#include "winkhold/taps/capture/detail/taps.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

constexpr std::string_view unrecorded = "none";

const std::optional<std::string>& chosen_name(const RecordingOptions& options, Lines::Tap tap) {
    static const std::optional<std::string> free_choice;
    if (tap == Lines::left) return options.left;
    return tap == Lines::right ? options.right : free_choice;
}

std::string what_there_is(const Offer& offer) {
    return fmt::format("the {}s are: {}", offer.place_noun, listed(offer.names));
}

std::optional<Place> find_chosen(const Offer& offer, const std::string& name) {
    const auto place = offer.find(name);
    if (!place)
        throw Complaint{fmt::format("no {} {}; {}", offer.place_noun, shown(name), what_there_is(offer))};
    return place;
}

std::optional<Place> find_default(const Offer& offer, const NamedTap& named) {
    const std::string in_volts = fmt::format("{}_v", named.name);
    auto place = offer.find(named.name);
    if (!place) place = offer.find(in_volts);
    const bool needed = named.tap == Lines::left || named.tap == Lines::right;
    if (place || !needed) return place;
    throw Complaint{
        fmt::format("no {0} \"{1}\" or \"{2}\"; say which one it is with --{1} NAME, or --{1} none; {3}",
                    offer.place_noun, named.name, in_volts, what_there_is(offer))};
}

} // namespace

std::vector<PlacedTap> place_taps(const RecordingOptions& options, const Offer& offer) {
    std::vector<PlacedTap> taps;
    for (const NamedTap& named : named_taps) {
        const auto& chosen = chosen_name(options, named.tap);
        if (chosen == unrecorded) continue;
        const auto place = chosen ? find_chosen(offer, *chosen) : find_default(offer, named);
        if (!place) continue;
        const bool taken = std::any_of(taps.begin(), taps.end(),
                                       [&](const PlacedTap& earlier) { return earlier.place == *place; });
        if (!taken) taps.push_back({named.tap, *place});
        if (taken && named.tap == Lines::right) {
            throw Complaint{
                fmt::format("left and right are both read from one {}; choose another with --left or "
                            "--right; {}",
                            offer.place_noun, what_there_is(offer))};
        }
    }
    return taps;
}

} // namespace winkhold::taps::capture
