// wasm32: the page, or node with run_wasm.js, brings put(). Nothing is linked, so what a compiler may call
// for copies is here.
#include "port.hpp"

#include <stddef.h>

extern "C" {
__attribute__((import_module("page"), import_name("put"))) void page_put(int c);

void* memset(void* to, int byte, size_t count) {
    for (volatile uint8_t* at = static_cast<uint8_t*>(to); count-- != 0;)
        *at++ = static_cast<uint8_t>(byte);
    return to;
}
void* memcpy(void* to, const void* from, size_t count) {
    volatile uint8_t* at = static_cast<uint8_t*>(to);
    for (const uint8_t* byte = static_cast<const uint8_t*>(from); count-- != 0;)
        *at++ = *byte++;
    return to;
}

__attribute__((export_name("play"))) void play() {
    replay::play_all();
}
}

void replay::put(char c) {
    page_put(c);
}
