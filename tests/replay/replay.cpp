// Everything that the core answers, on rides drawn from seeds and on the recordings: the same text on every
// machine. Only what a machine could get wrong is printed in full; the rest goes into a digest.
#include "port.hpp"
#include "printing.hpp"
#include "recordings.hpp" // made by recordings.py
#include "stream.hpp"
#include "winkhold/core/core.hpp"

namespace replay {
namespace {

using namespace winkhold::core;

constexpr LampGroup groups[] = {
    {Job::turn, Indication::left, 6, outward(30_ms), 255, 0},
    {Job::turn, Indication::right, 10, in_blocks(3, 41_ms), 255, 25},
    {Job::turn, Indication::hazard, 1, fading_in(16, 7_ms), 200, 0},
    {Job::turn, Indication::left, 300, ending(in_blocks(7, 3'333_us), 120_ms, 90_ms), 255, 0},
    {Job::stop, Indication::hazard, 18, together(), 255, 40},
    {Job::tail, Indication::right, 2, together(), 90, 30},
    {Job::marker, Indication::left, 5, together(), 120, 0},
};
constexpr uint8_t group_count = sizeof(groups) / sizeof(groups[0]);

struct Bike {
    Settings settings;
    SequenceSettings timing;
};

Bike bike(uint8_t kind) {
    Bike bike;
    Settings& s = bike.settings;
    if (kind == 1) {
        s.rule = HoldRule::fixed;
        s.hold_us = 840_ms;
        s.cut_short = false;
        bike.timing.source = FlashSource::own_rate;
        bike.timing.on_us = 333'333_us;
        bike.timing.dark_us = 277_ms;
    }
    if (kind == 2) {
        s.settle_us = 12'345_us;
        s.pwm_gap_us = 15_ms;
        s.gap_prior_us = 360_ms;
        s.handover_us = 0;
        s.spread = false;
        bike.timing.on_prior_us = 350_ms;
    }
    return bike;
}

/// Prints every change of the answer for a while, and folds all steps into a digest.
class Watched {
public:
    Watched(const Bike& bike, uint32_t start_us, uint16_t lines_printed)
        : board_(bike.settings, bike.timing, groups, group_count), start_us_(start_us),
          printed_(lines_printed) {}

    void step(uint32_t now_us, uint8_t lines) {
        const bool moved = board_.step(Micros{now_us}, Lines{lines});
        const Decoder& decoder = board_.decoder();
        const uint8_t shown = static_cast<uint8_t>(decoder.indication());
        digest_.add(static_cast<uint8_t>(moved));
        digest_.add(shown);
        digest_.add(decoder.faults(Side::left));
        digest_.add(decoder.faults(Side::right));
        digest_.add(static_cast<uint8_t>(board_.wake().armed));
        if (board_.wake().armed) digest_.add(board_.wake().at.count_us);
        for (uint8_t i = 0; moved && i < group_count; ++i) {
            const GroupFrame frame = board_.sequence().frame(i);
            digest_.add(uint32_t{frame.lit});
            digest_.add(frame.level);
            digest_.add(frame.rest);
        }
        ++steps_;
        shown_ = static_cast<uint8_t>(shown_ | 1u << shown);
        faults_ = static_cast<uint8_t>(faults_ | decoder.faults(Side::left) | decoder.faults(Side::right));
        if (moved && printed_ != 0) print_moved(now_us, shown);
    }
    uint8_t shown() const { return static_cast<uint8_t>(board_.decoder().indication()); }
    Alarm wake() const { return board_.wake(); }

    /// Unit: us. Never 0: an overdue wake is one step late.
    uint32_t until_wake_us(uint32_t now_us) const {
        const uint32_t wait_us = elapsed_us(board_.wake().at, Micros{now_us});
        return wait_us == 0 ? 1 : wait_us;
    }

    void print_digest() const {
        print("steps ");
        print(steps_);
        print(" digest ");
        print(digest_.sum());
        print(" faults ");
        print(uint32_t{faults_});
        print(" shown ");
        print(uint32_t{shown_});
        put('\n');
    }

private:
    void print_moved(uint32_t now_us, uint8_t shown) {
        --printed_;
        print(now_us - start_us_);
        put(' ');
        put("-LRH"[shown]);
        print(" faults ");
        print(uint32_t{board_.decoder().faults(Side::left)});
        put('/');
        print(uint32_t{board_.decoder().faults(Side::right)});
        for (uint8_t i = 0; i < group_count; ++i) {
            const GroupFrame frame = board_.sequence().frame(i);
            put(' ');
            print(uint32_t{frame.lit});
            put('@');
            print(uint32_t{frame.level});
            put('/');
            print(uint32_t{frame.rest});
        }
        put('\n');
    }

    Board board_;
    uint32_t start_us_;
    uint16_t printed_;
    uint32_t steps_{0};
    uint8_t shown_{0};  ///< bit 0 off, 1 left, 2 right, 3 hazard
    uint8_t faults_{0}; ///< all that were ever flagged
    Digest digest_;
};

/// `scan_us` 0: stepped at edges and wakes; else up to so late.
void play_stream(uint8_t kind, uint32_t seed, uint32_t scan_us, uint16_t edges) {
    constexpr uint32_t start_us = 0xffe0'0000; // the clock wraps after two seconds
    print("stream ");
    print(uint32_t{kind});
    put(' ');
    print(seed);
    put(' ');
    print(scan_us);
    put('\n');
    Stream stream(seed);
    Watched watched(bike(kind), start_us, 60);
    uint32_t now_us = start_us;
    uint8_t lines = stream.lines();
    watched.step(now_us, lines);
    while (edges-- != 0) {
        for (uint32_t wait_us = stream.next_us(); wait_us != 0;) {
            uint32_t part_us = scan_us == 0 ? wait_us : 1 + stream.below(scan_us);
            if (scan_us == 0 && watched.wake().armed && watched.until_wake_us(now_us) < part_us)
                part_us = watched.until_wake_us(now_us);
            if (part_us >= wait_us) {
                part_us = wait_us;
                lines = stream.lines();
            }
            now_us += part_us;
            wait_us -= part_us;
            watched.step(now_us, lines);
        }
    }
    watched.print_digest();
}

/// Reads what recordings.py stored.
class Stored {
public:
    explicit Stored(const uint8_t* at) : at_(at) {}

    const uint8_t* at() const { return at_; }
    /// The mark of an end is next; it is passed over.
    bool ends() {
        if (stored(at_) != recording_end) return false;
        ++at_;
        return true;
    }
    uint8_t byte() { return stored(at_++); }
    uint32_t number() {
        uint32_t number = 0;
        for (uint8_t bit = 0; bit < 32; bit = static_cast<uint8_t>(bit + 8))
            number |= uint32_t{byte()} << bit;
        return number;
    }

private:
    const uint8_t* at_;
};

Settings read_settings(Stored& from) {
    Settings s;
    Span* const times[] = {&s.settle_us,      &s.pwm_gap_us,    &s.hold_us,
                           &s.guard_us,       &s.gap_prior_us,  &s.handover_us,
                           &s.fall_window_us, &s.cut_margin_us, &s.supply_gone_us};
    while (!from.ends()) {
        const uint8_t field = from.byte();
        const uint32_t value = from.number();
        if (field < 9)
            *times[field] = static_cast<Span>(value);
        else if (field == 9)
            s.rule = value == 0 ? HoldRule::fixed : HoldRule::paced;
        else
            (field == 10 ? s.cut_short : s.spread) = value != 0;
    }
    return s;
}

const uint8_t* play_recording(const uint8_t* at) {
    Stored from(at);
    print("recording ");
    for (char c; (c = static_cast<char>(from.byte())) != '\0';)
        put(c);
    put('\n');
    Watched watched(Bike{read_settings(from), SequenceSettings{}}, 0, 0);
    uint32_t now_us = 0;
    uint8_t lines = 0;
    uint8_t shown = 0xff;
    const auto step = [&] {
        watched.step(now_us, lines);
        if (watched.shown() == shown) return;
        shown = watched.shown();
        print(now_us);
        put(' ');
        put("-LRH"[shown]);
        put('\n');
    };
    while (!from.ends()) {
        const uint8_t next_lines = from.byte();
        const uint32_t wait_us = from.number();
        const uint32_t then_us = now_us + wait_us;
        while (watched.wake().armed && watched.until_wake_us(now_us) < then_us - now_us) {
            now_us += watched.until_wake_us(now_us);
            step();
        }
        now_us = then_us;
        lines = next_lines;
        step();
    }
    watched.print_digest();
    return from.at();
}

} // namespace

void play_all() {
    Digest
        check; // published for FNV-1a, 32 bits: "foobar" 0xbf9cf968 (the authors' test vectors, from memory)
    for (const char* c = "foobar"; *c != '\0'; ++c)
        check.add(static_cast<uint8_t>(*c));
    print("check ");
    print(check.sum());
    put('\n');
    for (uint8_t kind = 0; kind < 3; ++kind) {
        play_stream(kind, 1u + kind, 0, 1'200);
        play_stream(kind, 0x1234'5678u + kind, 1'000, 60);
        play_stream(kind, 0x8765'4321u + kind, 9'000, 500);
    }
    const uint8_t* at = recordings;
    for (uint8_t i = 0; i < recording_count; ++i)
        at = play_recording(at);
    print("end\n");
}

} // namespace replay
