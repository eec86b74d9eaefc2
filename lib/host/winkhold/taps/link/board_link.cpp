#include "winkhold/taps/link/board_link.hpp"

#include <algorithm>

namespace winkhold::taps {

using core::Indication;
using core::Lines;
using link::LineReader;

void BoardLink::feed(std::string_view bytes, BoardListener& listener) {
    for (const char c : bytes) {
        const bool is_stray = !reader_.is_open() && c != ':' && c != '\n' && c != '\r';
        const LineReader::Got got = reader_.add(c);
        if (is_stray) ++health_.stray_bytes;
        if (got == LineReader::Got::damaged) ++health_.damaged;
        if (got == LineReader::Got::line) line(listener);
    }
}

void BoardLink::stop() {
    if (reader_.stop() == LineReader::Got::damaged) ++health_.damaged;
}

void BoardLink::line(BoardListener& listener) {
    if (came_before()) {
        ++health_.doubled;
        return;
    }
    ++health_.lines;
    count_missing(listener);
    if (!tell(listener)) ++health_.not_understood;
}

bool BoardLink::came_before() {
    const std::pair seen{reader_.number(), reader_.checksum()};
    const auto known = recent_.begin() + static_cast<std::ptrdiff_t>(std::min(recent_count_, recent_.size()));
    if (std::find(recent_.begin(), known, seen) != known) return true;
    recent_[recent_count_++ % recent_.size()] = seen;
    return false;
}

// A number that goes back is a board that began anew: what came twice has been passed over.
void BoardLink::count_missing(BoardListener& listener) {
    const std::uint16_t number = reader_.number();
    if (last_number_) {
        const auto ahead = static_cast<std::uint16_t>(number - *last_number_);
        if (ahead == 0 || ahead >= 0x8000) {
            ++health_.restarts;
            heard_time_ = false;
            listener.restarted(now_us_);
        } else if (ahead > 1) {
            health_.missing += ahead - 1;
            listener.missing(ahead - 1);
        }
    }
    last_number_ = number;
}

// A time that goes back by less than a second belongs to a line that had to wait for others.
TimeUs BoardLink::time_us(std::uint32_t board_us) {
    const auto passed_us = static_cast<std::int32_t>(board_us - last_board_us_);
    if (heard_time_ && passed_us > 0) now_us_ += passed_us;
    if (!heard_time_ || passed_us > 0) last_board_us_ = board_us;
    heard_time_ = true;
    return now_us_;
}

bool BoardLink::tell(BoardListener& listener) {
    link::Fields fields = reader_.fields();
    switch (reader_.kind()) {
    case link::up::hello: {
        BoardHello hello;
        hello.version = fields.number(99);
        hello.vehicle_hash = fields.hex(8);
        hello.build = fields.hex(8);
        hello.start =
            static_cast<link::Start>(fields.number(static_cast<std::uint32_t>(link::Start::watchdog)));
        if (!fields.complete()) return false;
        listener.hello(hello);
        return true;
    }
    case link::up::settings: {
        const core::Settings settings = link::take_settings(fields);
        const auto origin =
            static_cast<link::Origin>(fields.number(static_cast<std::uint32_t>(link::Origin::tried)));
        if (!fields.complete() || core::check(settings) != core::SettingsError::none) return false;
        listener.settings(settings, origin);
        return true;
    }
    case link::up::edge: {
        const std::uint32_t at_us = fields.number();
        const Lines lines(static_cast<std::uint8_t>(fields.hex(2)));
        if (!fields.complete()) return false;
        listener.edge(time_us(at_us), lines);
        return true;
    }
    case link::up::indication: {
        const std::uint32_t at_us = fields.number();
        const auto shown = static_cast<Indication>(fields.number(3));
        const Lines settled(static_cast<std::uint8_t>(fields.hex(2)));
        if (!fields.complete()) return false;
        listener.indication(time_us(at_us), shown, settled);
        return true;
    }
    case link::up::faults: {
        const std::uint32_t at_us = fields.number();
        const auto left = static_cast<std::uint8_t>(fields.hex(2));
        const auto right = static_cast<std::uint8_t>(fields.hex(2));
        if (!fields.complete()) return false;
        listener.faults(time_us(at_us), left, right);
        return true;
    }
    case link::up::lamps: {
        const std::uint32_t at_us = fields.number();
        const auto group = fields.number(255);
        core::GroupFrame frame{};
        frame.lit = static_cast<std::uint16_t>(fields.number(4'096));
        frame.level = static_cast<std::uint8_t>(fields.number(255));
        frame.rest = static_cast<std::uint8_t>(fields.number(255));
        if (!fields.complete()) return false;
        listener.lamps(time_us(at_us), group, frame);
        return true;
    }
    case link::up::counters: {
        BoardCounters counters;
        for (std::uint32_t* const each : {&counters.dropped_lines, &counters.dropped_edges,
                                          &counters.damaged_lines, &counters.late_samples})
            *each = fields.number();
        if (!fields.complete()) return false;
        listener.counters(counters);
        return true;
    }
    case link::up::heartbeat: {
        const std::uint32_t at_us = fields.number();
        const Lines lines(static_cast<std::uint8_t>(fields.hex(2)));
        const auto shown = static_cast<Indication>(fields.number(3));
        if (!fields.complete()) return false;
        listener.heartbeat(time_us(at_us), lines, shown);
        return true;
    }
    case link::up::answer: {
        BoardAnswer answer;
        answer.to = static_cast<std::uint16_t>(fields.hex(4));
        answer.says =
            static_cast<link::Answer>(fields.number(static_cast<std::uint32_t>(link::Answer::busy)));
        if (!fields.complete()) return false;
        listener.answer(answer);
        return true;
    }
    default:
        return false;
    }
}

} // namespace winkhold::taps
