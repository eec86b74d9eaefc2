/// Lines on their way down, and the answers that they wait for.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/link/words.hpp"

#include <cstdint>
#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace winkhold::live {

/// Numbers lines, repeats one that nobody answers, once, and says when that was in vain.
class Outbox {
public:
    static constexpr TimeUs patience_us = 1'000'000;

    /// A line that was sent.
    struct Sent {
        std::uint16_t number{0};
        char kind{};
        std::string bytes;
        TimeUs at_us{0};
        bool repeated{false};
    };

    /// `write` takes bytes to the port.
    explicit Outbox(std::function<void(std::string_view)> write) : write_(std::move(write)) {}

    /// `fields` writes them, or does nothing.
    void send(char kind, TimeUs clock_us, const std::function<void(link::LineWriter&)>& fields = {});
    /// The line that this answers, if it still waits.
    std::optional<Sent> answered(std::uint16_t number);
    /// Repeats what has waited too long; returns one that has waited in vain.
    std::optional<Sent> passed(TimeUs clock_us);
    /// The port is gone, and so is what was on its way.
    void clear() { waiting_.clear(); }

private:
    std::function<void(std::string_view)> write_;
    std::deque<Sent> waiting_;
    std::uint16_t number_{0};
};

} // namespace winkhold::live
