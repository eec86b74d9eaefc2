// Records four taps: every edge is stamped, kept in a ring and written over the UART as a line of text.
// Decides nothing, needs no settings. ATmega328P at 16 MHz; taps PC0 left, PC1 right, PC2 brake, PC3 tail,
// active high, no pull-ups; UART 115200 8N1. README.md beside this describes the lines.
#include <avr/interrupt.h>
#include <avr/io.h>
#include <stdlib.h>
#include <util/atomic.h>

// Calls would make the interrupt save half of the registers, and the next edge waits for it.
#define INLINED __attribute__((always_inline)) inline

namespace {

constexpr uint8_t taps_mask = 0x0f;
constexpr uint32_t ticks_per_second = 250'000; // 16 MHz / 64: 4 us
// The nearest there is to 115200 is 2.1 % fast; receivers tolerate it.
constexpr uint16_t baud_divider = 17;   // of 2 MHz
constexpr uint16_t ticks_per_byte = 22; // ten bits take 85 us

struct Entry {
    uint16_t low;  // of the tick, or how many edges were lost
    uint16_t high; // of the tick
    uint8_t taps;  // or `lost_here`
};
constexpr uint8_t lost_here = 0xff;

// 256 entries, so that indices wrap by themselves. The interrupt writes `head`, the main loop `tail`.
Entry ring[256];
volatile uint8_t head;
volatile uint8_t tail;
volatile uint8_t taps_last; // as of the last edge kept or lost
// Edges since the ring had room. It has again after two lines (3 ms), when far fewer than 65,536 can have
// come.
volatile uint16_t lost;
volatile uint16_t overflows; // the upper half of the tick

INLINED void append(uint16_t low, uint16_t high, uint8_t taps) {
    Entry& entry = ring[head];
    entry.low = low;
    entry.high = high;
    entry.taps = taps;
    head = static_cast<uint8_t>(head + 1);
}

INLINED void append_lost() {
    append(lost, 0, lost_here);
    lost = 0;
}

// Interrupts off. Timer 1 may have run over while its interrupt waits: then its flag is up, and a low count
// says that it was read after the overflow and not just before.
INLINED uint16_t high_of(uint16_t low) {
    const uint16_t counted = overflows;
    const bool waits = (TIFR1 & _BV(TOV1)) != 0 && low < 0x8000;
    return waits ? static_cast<uint16_t>(counted + 1) : counted;
}

// Sends a line a byte at a time, paced by the timer instead of by an interrupt, which would delay stamps.
class Sender {
public:
    char* line() { return line_; }
    bool idle() const { return *at_ == '\0'; }
    void start() { at_ = line_; }
    void poll(uint16_t now) {
        if (idle() || static_cast<uint16_t>(now - sent_) < ticks_per_byte || (UCSR0A & _BV(UDRE0)) == 0)
            return;
        UDR0 = static_cast<uint8_t>(*at_++);
        sent_ = now;
    }

private:
    char line_[40];
    const char* at_{""};
    uint16_t sent_{0};
};

Sender sender;

char* write_number(char* at, uint32_t number) {
    ultoa(number, at, 10);
    while (*at != '\0')
        ++at;
    return at;
}

void send_line(char* end) {
    *end++ = '\n';
    *end = '\0';
    sender.start();
}

// "o <count>": so many edges are lost before the next line.
void send_lost(uint16_t count) {
    char* const line = sender.line();
    line[0] = 'o';
    line[1] = ' ';
    send_line(write_number(line + 2, count));
}

// "<tick> <taps>" from `at` on: the line's start, or behind "h ".
void send_levels(char* at, uint32_t tick, uint8_t taps) {
    at = write_number(at, tick);
    *at++ = ' ';
    *at++ = '0';
    *at++ = static_cast<char>(taps < 10 ? '0' + taps : 'a' + taps - 10);
    send_line(at);
}

void send_heartbeat(uint32_t tick, uint8_t taps) {
    char* const line = sender.line();
    line[0] = 'h';
    line[1] = ' ';
    send_levels(line + 2, tick, taps);
}

void send_header() {
    const char* from = "# winkhold recorder 1 tick_us=4";
    char* to = sender.line();
    while (*from != '\0')
        *to++ = *from++;
    send_line(to);
}

void start() {
    UCSR0A = _BV(U2X0);
    UBRR0 = baud_divider - 1;
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(TXEN0);
    PCMSK1 = taps_mask;
    PCICR = _BV(PCIE1);
    TIMSK1 = _BV(TOIE1);
    taps_last = PINC & taps_mask;
    TCCR1B = _BV(CS11) | _BV(CS10);
    sei();
}

void send_oldest() {
    const Entry& entry = ring[tail];
    if (entry.taps == lost_here)
        send_lost(entry.low);
    else
        send_levels(sender.line(), static_cast<uint32_t>(entry.high) << 16 | entry.low, entry.taps);
    tail = static_cast<uint8_t>(tail + 1);
}

} // namespace

ISR(TIMER1_OVF_vect) {
    overflows = overflows + 1;
}

ISR(PCINT1_vect) {
    const uint16_t low = TCNT1;
    const uint8_t taps = PINC & taps_mask;
    if (taps == taps_last) return; // gone before it could be read
    taps_last = taps;
    if (static_cast<uint8_t>(tail - head - 1) < 2) { // room for the edge and a count of lost ones ahead of it
        lost = lost + 1;
        return;
    }
    if (lost != 0) append_lost();
    append(low, high_of(low), taps);
}

int main() {
    start();
    send_header();
    uint32_t last_beat = 0 - ticks_per_second; // the first one tells the levels at the start
    for (;;) {
        uint16_t low = 0;
        uint16_t high = 0;
        uint8_t taps = 0;
        bool quiet = false;
        ATOMIC_BLOCK(ATOMIC_FORCEON) {                    // as short as can be: stamps wait for it
            if (lost != 0 && head == tail) append_lost(); // no edge has come since
            low = TCNT1;
            high = high_of(low);
            taps = taps_last;
            quiet = head == tail;
        }
        sender.poll(low);
        if (!sender.idle()) continue;
        const uint32_t now = static_cast<uint32_t>(high) << 16 | low;
        if (!quiet) {
            send_oldest();
        } else if (now - last_beat >= ticks_per_second) {
            last_beat = now;
            send_heartbeat(now, taps);
        }
    }
}
