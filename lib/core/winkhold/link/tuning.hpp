/// Which settings are in force on a board: its firmware's, those stored, or some that are being tried.
#pragma once

#include "winkhold/link/words.hpp"

namespace winkhold {
namespace link {

/// A setting that is tried takes effect with the next settled rise of a turn line, and falls back once the
/// computer has been silent for `silence_us`. Nothing here lights a lamp or keeps one dark.
class Tuning {
public:
    /// `stored`: null if there are none, or none that are right. All must pass core::check().
    Tuning(const core::Settings& firmware, const core::Settings* stored)
        : firmware_(firmware), kept_(stored != nullptr ? *stored : firmware), in_force_(kept_), next_(kept_),
          kept_origin_(stored != nullptr ? Origin::stored : Origin::firmware), origin_(kept_origin_),
          next_origin_(kept_origin_) {}

    /// Something right came from the computer.
    void heard(core::Micros now) {
        heard_ = now;
        has_heard_ = true;
    }
    /// Settings to try.
    Answer try_out(const core::Settings& settings) {
        if (core::check(settings) != core::SettingsError::none) return Answer::refused;
        if (!allowed_on_a_bike(settings)) return Answer::unsafe;
        next_ = settings;
        next_origin_ = Origin::tried;
        waits_ = true;
        return Answer::done;
    }
    /// Those tried, or those in force, are kept from now on: the owner writes kept() to where it lasts.
    void keep() {
        kept_ = next_;
        kept_origin_ = next_origin_ = Origin::stored;
        if (!waits_) origin_ = Origin::stored;
    }
    /// Back to the firmware's; the owner forgets what it has stored.
    void forget() {
        kept_ = firmware_;
        kept_origin_ = Origin::firmware;
        fall_back();
    }

    /// After each step of the board. `rise`: a turn line has settled high in it. True: settings() are others
    /// now, and the board's decoder is to go on with them.
    bool step(core::Micros now, bool rise) {
        if (next_origin_ == Origin::tried && has_heard_ && core::elapsed_us(now, heard_) >= silence_us)
            fall_back();
        if (!waits_ || !rise) return false;
        in_force_ = next_;
        origin_ = next_origin_;
        waits_ = false;
        return true;
    }

    /// In force.
    const core::Settings& settings() const { return in_force_; }
    /// Where those in force come from.
    Origin origin() const { return origin_; }
    /// Others wait for the next settled rise.
    bool waits() const { return waits_; }
    /// What lasts through power-off.
    const core::Settings& kept() const { return kept_; }

private:
    void fall_back() {
        next_ = kept_;
        next_origin_ = kept_origin_;
        waits_ = true;
    }

    core::Settings firmware_;
    core::Settings kept_;
    core::Settings in_force_;
    core::Settings next_;
    Origin kept_origin_;
    Origin origin_;
    Origin next_origin_;
    bool waits_{false};
    bool has_heard_{false};
    core::Micros heard_{};
};

} // namespace link
} // namespace winkhold
