#include "winkhold/bike/electrics/detail/port.hpp"

#include <gtest/gtest.h>

namespace {

using winkhold::host::port_of;

// ATmega328P data sheet (read) and what small boards with it print (common practice, no source).
TEST(Port, IsThatOfTheChipsNameOrOfThePrintedOne) {
    EXPECT_EQ(port_of("PB5"), "PB");
    EXPECT_EQ(port_of("pd0"), "PD");
    EXPECT_EQ(port_of("D7"), "PD");
    EXPECT_EQ(port_of("D8"), "PB");
    EXPECT_EQ(port_of("d13"), "PB");
    EXPECT_EQ(port_of("A0"), "PC");
    for (const char* other : {"", "P", "PB", "D", "SR1", "left", "PB1x", "D-1", "13"})
        EXPECT_EQ(port_of(other), "") << other;
}

} // namespace
