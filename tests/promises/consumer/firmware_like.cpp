#include "winkhold/core/core.hpp"

int main() {
    using namespace winkhold::core;
    Decoder decoder{Settings{}};
    decoder.step(Micros{0}, Lines{Lines::right});
    return decoder.step(Micros{5000}, Lines{Lines::right}) == Indication::right ? 0 : 1;
}
