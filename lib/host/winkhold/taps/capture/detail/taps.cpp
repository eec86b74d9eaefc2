#include "winkhold/taps/capture/detail/taps.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

constexpr std::string_view unrecorded = "none";

const std::optional<std::string>& chosen_name(const RecordingOptions& options, Lines::Tap tap) {
    switch (tap) {
    case Lines::left:
        return options.left;
    case Lines::right:
        return options.right;
    case Lines::brake:
        return options.brake;
    case Lines::tail:
        return options.tail;
    default:
        return options.supply;
    }
}

// All there is to choose from, but for what was just refused.
std::string what_else(const Offer& offer, std::string_view refused) {
    std::vector<std::string> names = offer.names;
    std::erase(names, refused);
    return fmt::format("the {}s{} are: {}", offer.place_noun,
                       names.size() < offer.names.size() ? " left" : "", listed(names));
}

Place find_chosen(const Offer& offer, const std::string& name) {
    const auto place = offer.find(name);
    if (place) return *place;
    throw Complaint{fmt::format("no {} {}; {}", offer.place_noun, shown(name), what_else(offer, name))};
}

std::optional<Place> find_default(const Offer& offer, const NamedTap& named) {
    const auto place = offer.find(named.name);
    return place ? place : offer.find(fmt::format("{}_v", named.name));
}

[[noreturn]] void refuse_without(const Offer& offer, const NamedTap& named) {
    throw Complaint{fmt::format("no {0} \"{1}\" or \"{1}_v\"; say which one it is with --{1} NAME, or --{1} "
                                "none; {2}",
                                offer.place_noun, named.name, what_else(offer, named.name))};
}

bool is_side(Lines::Tap tap) {
    return tap == Lines::left || tap == Lines::right;
}

[[noreturn]] void refuse_shared(const Offer& offer, std::string_view first, std::string_view second,
                                std::string_view place) {
    throw Complaint{fmt::format("{} and {} are both read from one {}; choose another with --{} or --{}; {}",
                                first, second, offer.place_noun, first, second, what_else(offer, place))};
}

std::string_view name_of(Lines::Tap tap) {
    return std::find_if(named_taps.begin(), named_taps.end(),
                        [tap](const NamedTap& named) { return named.tap == tap; })
        ->name;
}

Caveat left_out(Lines::Tap tap, std::string_view why) {
    return {"tap-left-out", 1, 0,
            fmt::format("{0} is there and left out: {1} (--{0} NAME takes another, --{0} none none)",
                        name_of(tap), why)};
}

} // namespace

void UnreadTaps::add(Lines::Tap tap, TimeUs t_us, const std::string& why) {
    Unread& unread = taps_[tap];
    if (unread.count++ == 0) unread = {1, t_us, why};
}

void UnreadTaps::add_caveats(std::vector<Caveat>& caveats, TimeUs origin_us) const {
    for (const auto& [tap, unread] : taps_)
        caveats.push_back(
            {"tap-not-read", unread.count, unread.first_us - origin_us,
             fmt::format("{0} keeps its level where it can't be read: {1} (--{0} none leaves it "
                         "out)",
                         name_of(tap), unread.why)});
}

Placement place_taps(const RecordingOptions& options, const Offer& offer) {
    Placement placement;
    auto& taps = placement.taps;
    for (const NamedTap& named : named_taps) {
        const auto& chosen = chosen_name(options, named.tap);
        if (chosen == unrecorded) continue;
        const bool is_asked = chosen || is_side(named.tap);
        std::optional<Place> place;
        try {
            place = chosen ? find_chosen(offer, *chosen) : find_default(offer, named);
        } catch (const Complaint& complaint) {
            if (is_asked) throw;
            placement.left_out.push_back(left_out(named.tap, complaint.what));
            continue;
        }
        if (!place && is_asked) refuse_without(offer, named);
        if (!place) continue;
        const auto taken = std::find_if(taps.begin(), taps.end(),
                                        [&](const PlacedTap& earlier) { return earlier.place == *place; });
        if (taken == taps.end())
            taps.push_back({named.tap, *place, is_asked});
        else if (is_asked)
            refuse_shared(offer, name_of(taken->tap), named.name, chosen.value_or(std::string(named.name)));
    }
    return placement;
}

} // namespace winkhold::taps::capture
