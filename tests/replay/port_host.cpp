// g++ and clang++ on the machine that runs the tests.
#include "port.hpp"

#include <stdio.h>

void replay::put(char c) {
    putchar(c);
}

int main() {
    replay::play_all();
}
