/// What the flashes of a bike have taught the reference decoder: every on time and gap ever seen.
#pragma once

#include "reference/settled.hpp"

namespace winkhold::reference {

/// Durations in units of 64 us, in blocks of 24; only the last two blocks count.
class Durations {
public:
    void add(TimeUs units, bool may_begin_block);
    bool much_shorter(TimeUs units, const core::Settings& s) const;
    bool much_longer(TimeUs units, const core::Settings& s) const;
    TimeUs most() const;
    TimeUs margin(TimeUs around, const core::Settings& s) const;

private:
    std::vector<TimeUs> known() const;
    std::vector<std::vector<TimeUs>> blocks_{{}};
    std::vector<std::size_t> counts_{0}; ///< how many of a block count towards its 24
};

class Rhythm {
public:
    explicit Rhythm(const core::Settings& settings) : s_(settings) {}

    void gap(TimeUs units, TimeUs period_us);
    void on_time(TimeUs units) { on_times_.add(units, may_begin_block()); }
    void regular() { trust_ = std::min(trust_ + 1, 32); }
    void irregular() { trust_ = -96; }
    void begins_anew() { trust_ = 0; }
    void chatters() { trust_ = std::min(trust_, 0); }

    bool too_soon(TimeUs gap) const { return gaps_.much_shorter(gap, s_); }
    bool too_late(TimeUs gap) const { return gaps_.much_longer(gap, s_); }
    bool too_short(TimeUs on) const { return on_times_.much_shorter(on, s_); }
    bool is_irregular() const { return trust_ < 0; }
    bool believes_cuts() const { return trust_ >= 7; }
    bool believes_cuts_at_once() const { return trust_ == 32; }
    bool known() const { return trust_ >= 0 && (usual_gaps_ >= 4 || fast_in_a_row_ >= 31); }
    /// The longest gap to expect. Unit: us.
    TimeUs expected_us() const;

private:
    bool may_begin_block() const { return fast_in_a_row_ == 0 || fast_in_a_row_ >= 31; }

    core::Settings s_;
    Durations gaps_;
    Durations on_times_;
    int trust_{0};
    int usual_gaps_{0};
    int fast_in_a_row_{0};
};

} // namespace winkhold::reference
