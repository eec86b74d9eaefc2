/// Waits for a serial port, the keyboard, signals and time, and tells whoever listens, one thing at a time.
#pragma once

#include "winkhold/base/time.hpp"

#include <memory>
#include <string>
#include <string_view>

namespace winkhold::live {

/// Hears what happens. All is called from within PortLoop::run(). Throwing ends the run.
class PortListener {
public:
    virtual ~PortListener() = default;
    /// Bytes from the port.
    virtual void came(std::string_view /*bytes*/, TimeUs /*clock_us*/) {}
    /// Some twenty times a second.
    virtual void passed(TimeUs /*clock_us*/) {}
    /// The port was unplugged, why; it is tried again until it is back.
    virtual void gone(const std::string& /*why*/) {}
    /// It is there again.
    virtual void back() {}
    /// The keyboard has something, or has ended. False: it is not to be watched any more.
    virtual bool keys() { return false; }
    /// The terminal has another size.
    virtual void resized() {}
};

/// One port, one thread: nothing here runs but within run().
class PortLoop {
public:
    /// Opens the port; throws InputError as open_serial_line() does.
    PortLoop(const std::string& path, PortListener& listener);
    ~PortLoop();
    PortLoop(const PortLoop&) = delete;
    PortLoop& operator=(const PortLoop&) = delete;

    /// Also tells of the keyboard and of the terminal's size.
    void watch_terminal();
    /// Sends as soon as the port takes it; what doesn't go out while the port is gone is dropped.
    void write(std::string_view bytes);
    /// Until stop(), an interrupt, a hang-up, or standard output is closed by its reader; at most `for_us`,
    /// if that is above 0.
    void run(TimeUs for_us);
    /// Ends run() from within.
    void stop();

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

} // namespace winkhold::live
