/// The board's end of the line: says what happens, hears what is asked for. Decoding and lamps never wait for
/// it, and nothing that comes down the wire lights a lamp or keeps one dark, but for a lamp test while
/// nothing is asked of the lamps.
#pragma once

#include "winkhold/link/line_queue.hpp"
#include "winkhold/link/tuning.hpp"

namespace winkhold {
namespace link {

/// What the board knows of itself.
struct BoardFacts {
    uint32_t vehicle_hash{0}; ///< CRC-32 of the vehicle file it was built from
    uint32_t build{0};        ///< of the firmware
    Start start{Start::power};
};

/// What the owner is to do with its store.
enum class StoreWish : uint8_t { none, keep, forget };

/// The owner calls sampled() and stepped() as its board goes on, add() for each byte that comes, and sends
/// what queue() holds.
class BoardEnd {
public:
    /// Says hello and settings at once.
    BoardEnd(const BoardFacts& facts, const Tuning& tuning) : facts_(facts), tuning_(tuning) {
        hello();
        say_settings();
    }

    /// What is to be sent.
    LineQueue& queue() { return queue_; }
    /// Which settings are in force.
    const Tuning& tuning() const { return tuning_; }

    /// The raw taps at a sample. Call it for each; a line goes out only if a tap changed.
    void sampled(core::Micros now, core::Lines raw) {
        const bool first = !has_raw_;
        if (!first && raw == raw_) return;
        has_raw_ = true;
        raw_ = raw;
        if ((raw.bits() & asks_for_lamps) != 0) test_level_ = 0;
        LineWriter& line = queue_.begin(up::edge);
        line.number(now.count_us);
        line.hex(raw.bits(), 2);
        if (!queue_.end(Importance::edge)) ++dropped_edges_;
    }

    /// After each step of the board. True: the tuning has changed the settings, and the board is to be
    /// retuned to tuning().settings() before its next step.
    bool stepped(core::Micros now, const core::Board& board, uint8_t groups) {
        const core::Lines settled = board.settled();
        const uint8_t turns = core::Lines::left | core::Lines::right;
        const bool rise = (settled.bits() & ~settled_.bits() & turns) != 0;
        const core::Indication shown = board.decoder().indication();
        if (!has_shown_) beat_ = now; // hello and settings fill the port at first
        if (!has_shown_ || shown != shown_ || settled != settled_) say_indication(now, shown, settled);
        say_faults(now, board.decoder());
        if (lamps_) say_lamps(now, board.sequence(), groups);
        if (core::elapsed_us(now, beat_) >= beat_us) beat(now);
        const bool retuned = tuning_.step(now, rise);
        if (retuned) say_settings();
        return retuned;
    }

    /// A byte from the computer. What it leads to is answered at once, in the queue.
    void add(core::Micros now, char byte) {
        const LineReader::Got got = reader_.add(byte);
        if (got == LineReader::Got::damaged) ++damaged_;
        if (got != LineReader::Got::line) return;
        tuning_.heard(now);
        const Answer says = obey();
        LineWriter& line = queue_.begin(up::answer);
        line.hex(reader_.number(), 4);
        line.number(static_cast<uint32_t>(says));
        queue_.end(Importance::answer);
    }

    /// What is to be done about the store; asking takes it.
    StoreWish take_wish() {
        const StoreWish wish = wish_;
        wish_ = StoreWish::none;
        return wish;
    }
    /// Samples that came late, for the counters.
    void late_samples(uint32_t count) { late_samples_ = count; }

    /// The group under test and its brightness; 0: none is. Ends by itself with the first tap that rises.
    uint8_t tested_level(uint8_t group) const {
        return test_level_ != 0 && group == test_group_ ? test_level_ : 0;
    }

private:
    static constexpr uint32_t beat_us = 1000000;
    static constexpr uint8_t asks_for_lamps = core::Lines::left | core::Lines::right | core::Lines::brake;

    Answer obey() {
        Fields fields = reader_.fields();
        switch (reader_.kind()) {
        case down::settings: {
            const core::Settings settings = take_settings(fields);
            return fields.complete() ? tuning_.try_out(settings) : Answer::not_understood;
        }
        case down::store:
            if (!fields.complete()) return Answer::not_understood;
            if (wish_ != StoreWish::none) return Answer::busy;
            tuning_.keep();
            wish_ = StoreWish::keep;
            return Answer::done;
        case down::forget:
            if (!fields.complete()) return Answer::not_understood;
            if (wish_ != StoreWish::none) return Answer::busy;
            tuning_.forget();
            wish_ = StoreWish::forget;
            return Answer::done;
        case down::ask:
            if (!fields.complete()) return Answer::not_understood;
            hello();
            say_settings();
            say_counters();
            return Answer::done;
        case down::lamps: {
            const bool on = fields.number(1) != 0;
            if (!fields.complete()) return Answer::not_understood;
            lamps_ = on;
            said_ = 0;
            return Answer::done;
        }
        case down::lamp_test: {
            const uint8_t group = static_cast<uint8_t>(fields.number(255));
            const uint8_t level = static_cast<uint8_t>(fields.number(255));
            if (!fields.complete()) return Answer::not_understood;
            if (level != 0 && ((raw_.bits() | settled_.bits()) & asks_for_lamps) != 0)
                return Answer::lines_lit;
            test_group_ = group;
            test_level_ = level;
            return Answer::done;
        }
        case down::here:
            return fields.complete() ? Answer::done : Answer::not_understood;
        default:
            return Answer::not_understood;
        }
    }

    void hello() {
        LineWriter& line = queue_.begin(up::hello);
        line.number(version);
        line.hex(facts_.vehicle_hash, 8);
        line.hex(facts_.build, 8);
        line.number(static_cast<uint32_t>(facts_.start));
        queue_.end(Importance::report);
    }
    void say_settings() {
        LineWriter& line = queue_.begin(up::settings);
        put_settings(line, tuning_.settings());
        line.number(static_cast<uint32_t>(tuning_.origin()));
        queue_.end(Importance::report);
    }
    void say_counters() {
        LineWriter& line = queue_.begin(up::counters);
        line.number(queue_.dropped());
        line.number(dropped_edges_);
        line.number(damaged_);
        line.number(late_samples_);
        queue_.end(Importance::report);
    }
    void say_indication(core::Micros now, core::Indication shown, core::Lines settled) {
        has_shown_ = true;
        shown_ = shown;
        settled_ = settled;
        LineWriter& line = queue_.begin(up::indication);
        line.number(now.count_us);
        line.number(static_cast<uint32_t>(shown));
        line.hex(settled.bits(), 2);
        queue_.end(Importance::answer);
    }
    void say_faults(core::Micros now, const core::Decoder& decoder) {
        const uint8_t left = decoder.faults(core::Side::left);
        const uint8_t right = decoder.faults(core::Side::right);
        if (left == faults_[0] && right == faults_[1]) return;
        faults_[0] = left;
        faults_[1] = right;
        LineWriter& line = queue_.begin(up::faults);
        line.number(now.count_us);
        line.hex(left, 2);
        line.hex(right, 2);
        queue_.end(Importance::answer);
    }
    /// Up to so many groups; what changed while the port was full is said with the next change.
    void say_lamps(core::Micros now, const core::Sequence& sequence, uint8_t groups) {
        for (uint8_t i = 0; i < groups && i < most_groups; ++i) {
            const core::GroupFrame frame = sequence.frame(i);
            const uint16_t bit = static_cast<uint16_t>(1u << i);
            if ((said_ & bit) != 0 && frame == frames_[i]) continue;
            LineWriter& line = queue_.begin(up::lamps);
            line.number(now.count_us);
            line.number(i);
            line.number(frame.lit);
            line.number(frame.level);
            line.number(frame.rest);
            if (!queue_.end(Importance::picture)) continue;
            frames_[i] = frame;
            said_ = static_cast<uint16_t>(said_ | bit);
        }
    }
    void beat(core::Micros now) {
        beat_ = now;
        LineWriter& line = queue_.begin(up::heartbeat);
        line.number(now.count_us);
        line.hex(raw_.bits(), 2);
        line.number(static_cast<uint32_t>(shown_));
        queue_.end(Importance::report);
        if ((++beats_ & 7u) == 0) say_counters();
    }

    static constexpr uint8_t most_groups = 16;

    BoardFacts facts_;
    Tuning tuning_;
    LineQueue queue_;
    LineReader reader_;
    core::Lines raw_{};
    core::Lines settled_{};
    bool has_raw_{false};
    bool has_shown_{false};
    core::Indication shown_{core::Indication::off};
    uint8_t faults_[2]{};
    core::Micros beat_{};
    uint8_t beats_{0};
    bool lamps_{false};
    uint16_t said_{0};
    core::GroupFrame frames_[most_groups]{};
    uint8_t test_group_{0};
    uint8_t test_level_{0};
    StoreWish wish_{StoreWish::none};
    uint32_t dropped_edges_{0};
    uint32_t damaged_{0};
    uint32_t late_samples_{0};
};

} // namespace link
} // namespace winkhold
