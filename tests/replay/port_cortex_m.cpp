// Cortex-M0 and M3 under qemu: start-up, and semihosting for what is printed.
// Source of the operations' numbers: Arm's "Semihosting for AArch32 and AArch64" (from memory).
#include "port.hpp"

extern "C" {
extern uint32_t stack_top, data_from, data_begin, data_end, bss_begin, bss_end; // cortex_m.ld
void start();

// The first two entries are all that runs without interrupts: initial stack pointer and reset.
__attribute__((section(".vectors"), used))
const void* const vectors[] = {&stack_top, reinterpret_cast<const void*>(&start)};
}

namespace {

enum class Operation : uint32_t { write_character = 0x03, report_exception = 0x18 };

void ask_host(Operation operation, const void* argument) {
    register Operation r0 asm("r0") = operation;
    register const void* r1 asm("r1") = argument;
    asm volatile("bkpt 0xab" : "+r"(r0) : "r"(r1) : "memory");
}

} // namespace

void replay::put(char c) {
    ask_host(Operation::write_character, &c);
}

void start() {
    const uint32_t* from = &data_from;
    for (uint32_t* to = &data_begin; to != &data_end;)
        *to++ = *from++;
    for (uint32_t* to = &bss_begin; to != &bss_end;)
        *to++ = 0;
    replay::play_all();
    constexpr uint32_t application_exit = 0x20026;
    ask_host(Operation::report_exception, reinterpret_cast<const void*>(application_exit));
    for (;;) {
    }
}
