// Alone in its file, so that a test can put another table in its place.
#include "winkhold/bike/pins/detail/chip_pin_table.hpp"

namespace winkhold::bike {

std::span<const ChipPin> chip_pins() {
    return chip_pin_table;
}

} // namespace winkhold::bike
