/// A session with a board: what it says is kept, checked and told; what is asked of it is written down.
#pragma once

#include "winkhold/live/session/remembered.hpp"
#include "winkhold/live/session/state.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace winkhold::live {

/// Bytes and moments go in; listeners are called from within, in the order in which they came. Reads no clock
/// and knows no port, so that a test needs neither. `clock_us`: any clock that only goes on.
class Session {
public:
    /// `vehicle_hash`: of the vehicle file, if there is one; a board of another one may not be tuned.
    explicit Session(std::optional<std::uint32_t> vehicle_hash = {});
    ~Session();
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;

    /// Raw taps, each change.
    void on_edge(std::function<void(const Edge&)> listener);
    /// What the board shows, each change.
    void on_indication(std::function<void(const IndicationChange&)> listener);
    /// Everything worth telling a person.
    void on_notice(std::function<void(const Notice&)> listener);
    /// Bytes for the port.
    void on_write(std::function<void(std::string_view)> listener);

    /// Bytes from the port.
    void received(std::string_view bytes, TimeUs clock_us);
    /// Time passes: call it some ten times a second.
    void passed(TimeUs clock_us);
    /// The port was lost, why; or is there again.
    void port_gone(std::string_view why);
    /// It is opened anew.
    void port_back();

    /// Who are you? Done by itself at the beginning and whenever something is lost.
    void ask();
    /// What follows returns why it can't be done, in words; nothing if the board was asked. What it answers
    /// is a notice.
    std::optional<std::string> try_out(const core::Settings& settings);
    /// Keeps the settings in force, or those that wait, through power-off.
    std::optional<std::string> store();
    /// Drops what was tried and stored.
    std::optional<std::string> forget();
    /// What the lamps show, from now on or no more.
    void lamp_frames(bool wanted);
    /// Level 0 ends it; so does a tap that rises, at once, and ten seconds.
    void lamp_test(unsigned group, std::uint8_t level);

    /// At this moment.
    const LiveState& state() const;
    /// The last minutes, oldest first.
    const std::deque<Edge>& taps() const;
    /// Settled taps.
    const std::deque<Edge>& settled() const;
    /// What the board has shown.
    const std::deque<IndicationChange>& shown() const;
    /// What a decoder with these settings makes of all taps remembered; it starts with nothing learned. The
    /// settings must pass core::check().
    Timeline answer_with(const core::Settings& settings) const;

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

} // namespace winkhold::live
