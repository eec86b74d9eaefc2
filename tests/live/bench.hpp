/// A session and a board on the bench: no port, no clock but the test's.
#pragma once

#include "link/simulated_board.hpp"
#include "winkhold/live/session/session.hpp"

#include <algorithm>
#include <functional>

namespace winkhold::testing {

/// Both ends and a wire between them, stepped together.
class Bench {
public:
    explicit Bench(std::optional<std::uint32_t> vehicle_hash = SimulatedBoard::vehicle_hash)
        : session(vehicle_hash) {
        session.on_notice([this](const host::Notice& notice) { notices.push_back(notice); });
        session.on_write([this](std::string_view bytes) {
            if (hears) board->hear(bytes);
        });
        session.on_indication([this](const host::IndicationChange& one) { shown.push_back(one); });
    }
    void run(host::TimeUs for_us, std::uint8_t taps) {
        for (host::TimeUs passed_us = 0; passed_us < for_us; passed_us += 10'000) {
            board->run(10'000, taps);
            clock_us += 10'000;
            const std::string said = board->said();
            if (!said.empty() && speaks) session.received(wire ? wire(said) : said, clock_us);
            session.passed(clock_us);
        }
    }
    void flash(std::uint8_t tap, int times) {
        for (int i = 0; i < times; ++i) {
            run(350'000, tap);
            run(350'000, 0);
        }
    }
    int told(host::Notice::About about) const {
        return static_cast<int>(std::count_if(notices.begin(), notices.end(),
                                              [&](const host::Notice& one) { return one.about == about; }));
    }
    bool told(std::string_view words) const {
        return std::any_of(notices.begin(), notices.end(), [&](const host::Notice& one) {
            return one.text.find(words) != std::string::npos;
        });
    }

    std::unique_ptr<SimulatedBoard> board = std::make_unique<SimulatedBoard>();
    host::Session session;
    std::vector<host::Notice> notices;
    std::vector<host::IndicationChange> shown;
    std::function<std::string(const std::string&)> wire;
    bool hears{true};
    bool speaks{true};
    host::TimeUs clock_us{5'000'000};
};

} // namespace winkhold::testing
