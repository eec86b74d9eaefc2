/// The taps of a recording: where each is found, and what it says.
#pragma once

#include "winkhold/taps/capture/recording.hpp"

#include <array>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::taps::capture {

using core::Lines;

struct NamedTap {
    Lines::Tap tap;
    std::string_view name;
};

/// What recordings call the taps, unless options say otherwise.
inline constexpr std::array<NamedTap, 5> named_taps{{{Lines::left, "left"},
                                                     {Lines::right, "right"},
                                                     {Lines::brake, "brake"},
                                                     {Lines::tail, "tail"},
                                                     {Lines::supply, "supply"}}};

/// A place in a recording that can hold a tap: a column, or a bit of a signal.
struct Place {
    std::size_t index{0};
    unsigned bit{0};

    friend bool operator==(const Place&, const Place&) = default;
};

/// A tap and the place it is read from.
struct PlacedTap {
    Lines::Tap tap;
    Place place;
    bool is_asked{true}; ///< a side, or named by an option: else it is taken because it is there
};

/// What a kind of recording offers to choose taps from.
struct Offer {
    std::string_view place_noun;    ///< "column" or "signal"
    std::vector<std::string> names; ///< of places that can hold a tap
    /// Nothing if there is no such place; throws Complaint if it is there and can't be taken.
    std::function<std::optional<Place>(std::string_view name)> find;
};

/// Where the taps are, and which are there and left out.
struct Placement {
    std::vector<PlacedTap> taps;
    std::vector<Caveat> left_out;
};

/// Finds each tap: by the option's name, else by its own name, else by its own name in volts. Throws
/// Complaint if one that is asked for is found nowhere or two are read from one place; others are left out.
Placement place_taps(const RecordingOptions& options, const Offer& offer);

/// What can't be read of taps that nobody asked for.
class UnreadTaps {
public:
    void add(Lines::Tap tap, TimeUs t_us, const std::string& why);
    /// `origin_us`: where the recording's time begins.
    void add_caveats(std::vector<Caveat>& caveats, TimeUs origin_us = 0) const;

private:
    struct Unread {
        std::int64_t count{0};
        TimeUs first_us{0};
        std::string why; // the first time
    };
    std::map<Lines::Tap, Unread> taps_;
};

/// What a level or a voltage says about a tap. A tap is low until something is said.
class TapRules {
public:
    explicit TapRules(const RecordingOptions& options)
        : inverted_(options.active_high ? 0 : Lines::left | Lines::right), on_above_v_(options.on_above_v),
          off_below_v_(options.off_below_v) {}

    Lines with_level(Lines lines, Lines::Tap tap, bool high) const {
        return lines.with(tap, high != ((inverted_ & tap) != 0));
    }

    Lines with_volts(Lines lines, Lines::Tap tap, double volts) const {
        if (is_on(volts)) return with_level(lines, tap, true);
        return is_off(volts) ? with_level(lines, tap, false) : lines;
    }

    /// Unit: V.
    double on_above_v() const { return on_above_v_; }
    bool is_inverted() const { return inverted_ != 0; }

    bool is_on(double volts) const { return volts > on_above_v_; }
    bool is_off(double volts) const { return volts < off_below_v_; }

private:
    unsigned inverted_;
    double on_above_v_;
    double off_below_v_;
};

} // namespace winkhold::taps::capture
