// ATmega328P under simavr, which prints what the UART sends. Sleep without interrupts ends its run.
#include "port.hpp"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>

void replay::put(char c) {
    while ((UCSR0A & _BV(UDRE0)) == 0) {
    }
    UDR0 = static_cast<uint8_t>(c);
}

int main() {
    UCSR0B = _BV(TXEN0);
    replay::play_all();
    cli();
    sleep_enable();
    sleep_cpu();
}
