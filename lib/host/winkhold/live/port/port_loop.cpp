#include "winkhold/live/port/port_loop.hpp"

#include "winkhold/live/port/serial_line.hpp"

#include <boost/asio/io_context.hpp>
#include <boost/asio/posix/stream_descriptor.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/steady_timer.hpp>
#include <csignal>
#include <poll.h>
#include <unistd.h>

namespace winkhold::live {
namespace {

namespace asio = boost::asio;
using Error = boost::system::error_code;

constexpr auto tick = std::chrono::milliseconds(50);
constexpr TimeUs reopen_us = 500'000;
constexpr std::size_t most_waiting = 4'096; // bytes for a board that takes none: older ones are worth nothing

/// The reader of our standard output is gone.
bool output_is_closed() {
    pollfd output{STDOUT_FILENO, 0, 0};
    return ::poll(&output, 1, 0) > 0 && (output.revents & (POLLERR | POLLNVAL)) != 0;
}

} // namespace

struct PortLoop::Parts {
    Parts(std::string name, PortListener& hears)
        : path(std::move(name)), listener(hears), port(io), keyboard(io), timer(io),
          ends(io, SIGINT, SIGTERM, SIGHUP), sizes(io) {
        port.assign(open_serial_line(path));
    }
    ~Parts() {
        if (keyboard.is_open()) keyboard.release(); // it is not ours to close
    }

    static TimeUs clock_us() {
        return to_us(std::chrono::duration_cast<std::chrono::microseconds>(
            std::chrono::steady_clock::now().time_since_epoch()));
    }

    void read() {
        port.async_read_some(asio::buffer(bytes), [this](const Error& error, std::size_t count) {
            if (error == asio::error::operation_aborted) return;
            if (error || count == 0) return lose("the port is gone (unplugged?)");
            listener.came({bytes.data(), count}, clock_us());
            read();
        });
    }
    void send() {
        if (is_sending || waiting.empty() || !port.is_open()) return;
        is_sending = true;
        std::swap(sending, waiting);
        waiting.clear();
        go_on_sending(0);
    }
    void go_on_sending(std::size_t from) {
        port.async_write_some(asio::buffer(sending.data() + from, sending.size() - from),
                              [this, from](const Error& error, std::size_t count) {
                                  if (!error && from + count < sending.size())
                                      return go_on_sending(from + count);
                                  is_sending = false;
                                  if (!error) send();
                              });
    }
    void lose(const std::string& why) {
        if (!port.is_open()) return;
        Error ignored;
        port.close(ignored);
        waiting.clear();
        tried_us = clock_us();
        listener.gone(path + ": " + why);
    }
    void reopen() {
        if (port.is_open() || clock_us() - tried_us < reopen_us) return;
        tried_us = clock_us();
        try {
            port.assign(open_serial_line(path));
        } catch (const InputError&) {
            return; // not yet
        }
        listener.back();
        read();
    }
    void wait() {
        timer.expires_after(tick);
        timer.async_wait([this](const Error& error) {
            if (error) return;
            if (end_us != 0 && clock_us() >= end_us) return io.stop();
            if (output_is_closed()) return io.stop();
            reopen();
            listener.passed(clock_us());
            wait();
        });
    }
    void wait_for_keys() {
        keyboard.async_wait(asio::posix::stream_descriptor::wait_read, [this](const Error& error) {
            if (error) return;
            if (listener.keys()) wait_for_keys();
        });
    }
    void wait_for_size() {
        sizes.async_wait([this](const Error& error, int) {
            if (error) return;
            listener.resized();
            wait_for_size();
        });
    }

    std::string path;
    PortListener& listener;
    asio::io_context io{1};
    asio::posix::stream_descriptor port;
    asio::posix::stream_descriptor keyboard;
    asio::steady_timer timer;
    asio::signal_set ends;
    asio::signal_set sizes;
    std::array<char, 65'536> bytes{};
    std::string waiting;
    std::string sending;
    bool is_sending{false};
    TimeUs tried_us{0};
    TimeUs end_us{0};
};

PortLoop::PortLoop(const std::string& path, PortListener& listener)
    : parts_(std::make_unique<Parts>(path, listener)) {}
PortLoop::~PortLoop() = default;

void PortLoop::watch_terminal() {
    parts_->keyboard.assign(STDIN_FILENO);
    parts_->sizes.add(SIGWINCH);
    parts_->wait_for_keys();
    parts_->wait_for_size();
}

void PortLoop::write(std::string_view bytes) {
    if (!parts_->port.is_open() || parts_->waiting.size() > most_waiting) return;
    parts_->waiting += bytes;
    parts_->send();
}

void PortLoop::run(TimeUs for_us) {
    parts_->end_us = for_us > 0 ? Parts::clock_us() + for_us : 0;
    parts_->ends.async_wait([this](const Error& error, int) {
        if (!error) parts_->io.stop();
    });
    parts_->read();
    parts_->wait();
    parts_->io.run();
}

void PortLoop::stop() {
    parts_->io.stop();
}

} // namespace winkhold::live
