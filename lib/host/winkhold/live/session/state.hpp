/// What is known of a board at this moment.
#pragma once

#include "winkhold/live/session/flash_meter.hpp"
#include "winkhold/live/session/host_answer.hpp"
#include "winkhold/taps/link/board_link.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>

namespace winkhold::live {

/// How far the board's rhythm bears, in the host's decoder beside it.
enum class Trust : std::uint8_t { none, irregular, some, cuts, full };

/// Its word.
constexpr std::string_view name(Trust trust) {
    constexpr std::string_view names[] = {"none yet", "irregular", "some", "good", "full"};
    return names[static_cast<std::size_t>(trust)];
}
/// Its word.
constexpr std::string_view name(link::Origin origin) {
    constexpr std::string_view names[] = {"firmware", "stored", "tried"};
    return names[static_cast<std::size_t>(origin)];
}
/// Why a board began.
constexpr std::string_view name(link::Start start) {
    constexpr std::string_view names[] = {"power-on", "reset", "brown-out", "watchdog"};
    return names[static_cast<std::size_t>(start)];
}

/// Everything that a screen shows. What was never said is unset.
struct LiveState {
    bool port_open{true};
    std::optional<TimeUs> now_us; ///< of the last line with a time, as BoardListener counts them
    std::optional<core::Lines> raw;
    std::optional<core::Lines> settled;
    std::optional<core::Indication> shown;
    std::array<std::uint8_t, 2> faults{}; ///< masks of core::Fault, left and right

    std::optional<BoardHello> hello;
    std::optional<bool> same_vehicle; ///< its hash is that of the vehicle file; unset: no file, or no hello
    std::optional<core::Settings> settings; ///< in force
    link::Origin origin{link::Origin::firmware};
    std::optional<core::Settings> waiting; ///< accepted, and to take effect with the next settled rise

    std::array<FlashFigures, 2> flashes; ///< left, right
    std::array<TimeUs, 2> hold_us{};     ///< a silence that began now would be bridged for so long
    Trust trust{Trust::none};
    bool in_step{false}; ///< the host's own answer counts
    std::int64_t differences{0};
    std::optional<Difference> last_difference;

    LinkHealth health;
    std::optional<BoardCounters> counters;
    std::int64_t unanswered{0};      ///< lines down that were sent twice, and in vain
    std::optional<TimeUs> silent_us; ///< since the last whole line; unset: there was none

    bool wants_lamps{false};
    std::array<std::optional<core::GroupFrame>, 16> lamps;
    std::optional<unsigned> tested_group;
};

/// Something to tell a person.
struct Notice {
    /// What it is about.
    enum class About : std::uint8_t { board, settings, fault, link, difference, answer };
    std::optional<TimeUs> t_us; ///< by the board's clock
    About about{About::board};
    bool is_trouble{false};
    std::string text; ///< what happened and what to do
};

} // namespace winkhold::live
