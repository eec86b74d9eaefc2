/// A serial port as a descriptor: opened, for this program alone, at the speed of a board.
#pragma once

#include "winkhold/base/error.hpp"

#include <string>

namespace winkhold::live {

/// Bits a second. No standard speed of the operating system, but an exact one of a 16 MHz board.
inline constexpr unsigned board_baud = 250'000;

/// Opens `path` raw, 8 bits, no parity, one stop bit, non-blocking. Throws InputError, one message with what
/// to do: no such port, no permission, somebody else has it, no serial port at all, a speed it can't do. A
/// pseudo-terminal will do.
int open_serial_line(const std::string& path);

} // namespace winkhold::live
