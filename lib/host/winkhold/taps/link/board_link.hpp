/// What a board says over its serial port, line by line; what was lost on the way is counted.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/core/sequence.hpp"
#include "winkhold/link/words.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>

namespace winkhold::taps {

/// A board that has just begun, or was asked who it is.
struct BoardHello {
    unsigned version{0};           ///< of its lines
    std::uint32_t vehicle_hash{0}; ///< CRC-32 of the vehicle file that it was built from
    std::uint32_t build{0};        ///< of its firmware
    link::Start start{link::Start::power};
};

/// What the board itself has lost since it began.
struct BoardCounters {
    std::uint32_t dropped_lines{0}; ///< the port was full
    std::uint32_t dropped_edges{0}; ///< among them
    std::uint32_t damaged_lines{0}; ///< from the computer
    std::uint32_t late_samples{0};
};

/// An answer to a line that was sent down.
struct BoardAnswer {
    std::uint16_t to{0}; ///< number of that line
    link::Answer says{link::Answer::done};
};

/// How well the line works, from the computer's side.
struct LinkHealth {
    std::int64_t lines{0};          ///< read whole
    std::int64_t damaged{0};        ///< begun and spoilt
    std::int64_t missing{0};        ///< by their numbers; those that came damaged are among them
    std::int64_t doubled{0};        ///< came again, and were passed over
    std::int64_t not_understood{0}; ///< whole, but of no known kind or with other fields
    std::int64_t restarts{0};       ///< of the board
    std::int64_t stray_bytes{0};    ///< between lines
};

/// Hears what the board says. Times count from its first line, in us, on through the wrap of its clock; after
/// a restart they go on from the last one, since nobody knows how long it took.
class BoardListener {
public:
    virtual ~BoardListener() = default;
    /// Who it is.
    virtual void hello(const BoardHello&) {}
    /// Those in force from then on, and where they come from.
    virtual void settings(const core::Settings&, link::Origin) {}
    /// The taps from then on, as the board's inputs have them: not settled.
    virtual void edge(TimeUs, core::Lines) {}
    /// What the board shows from then on, and the settled taps.
    virtual void indication(TimeUs, core::Indication, core::Lines) {}
    /// Masks of core::Fault, left and right.
    virtual void faults(TimeUs, std::uint8_t, std::uint8_t) {}
    /// What a group of lamps shows from then on.
    virtual void lamps(TimeUs, unsigned /*group*/, const core::GroupFrame&) {}
    /// What the board has counted.
    virtual void counters(const BoardCounters&) {}
    /// Each second: nothing need have changed.
    virtual void heartbeat(TimeUs, core::Lines, core::Indication) {}
    /// What a line that was sent down led to.
    virtual void answer(const BoardAnswer&) {}
    /// So many lines are missing ahead of the next one; what they said is not known.
    virtual void missing(std::int64_t /*lines*/) {}
    /// The board began anew: nothing of before holds.
    virtual void restarted(TimeUs) {}
};

/// Takes bytes as they come, in pieces of any size, from anywhere in the stream on.
class BoardLink {
public:
    /// Tells `listener` all that is in `bytes`; what is cut off at their end waits for the next ones.
    void feed(std::string_view bytes, BoardListener& listener);
    /// The port fell silent or was closed: a line that is still open is lost.
    void stop();

    /// Counted since the first byte.
    const LinkHealth& health() const { return health_; }
    /// Of the last line with a time; unset until there was one. Unit: us.
    std::optional<TimeUs> now_us() const { return heard_time_ ? std::optional(now_us_) : std::nullopt; }

private:
    void line(BoardListener& listener);
    bool came_before();
    void count_missing(BoardListener& listener);
    bool tell(BoardListener& listener);
    TimeUs time_us(std::uint32_t board_us);

    link::LineReader reader_;
    LinkHealth health_;

    std::optional<std::uint16_t> last_number_;
    std::array<std::pair<std::uint16_t, std::uint32_t>, 8> recent_{}; // numbers and checksums
    std::size_t recent_count_{0};

    bool heard_time_{false};
    std::uint32_t last_board_us_{0};
    TimeUs now_us_{0};
};

} // namespace winkhold::taps
