#include "winkhold/live/session/detail/words.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/base/settings_text.hpp"

#include <fmt/format.h>

namespace winkhold::live {

std::string_view request_text(char kind) {
    switch (kind) {
    case link::down::settings:
        return "settings to try";
    case link::down::store:
        return "store";
    case link::down::forget:
        return "forget";
    case link::down::ask:
        return "who it is";
    case link::down::lamps:
        return "lamp frames";
    case link::down::lamp_test:
        return "lamp test";
    default:
        return "still here";
    }
}

namespace {

std::string done_text(char kind) {
    switch (kind) {
    case link::down::settings:
        return "the settings are accepted; they take effect with the next flash, and fall back a minute "
               "after this program ends unless stored";
    case link::down::store:
        return "stored: kept through power-off from now on";
    case link::down::forget:
        return "what was stored is forgotten; the firmware's settings return with the next flash";
    default:
        return {};
    }
}

std::string refusal_text(link::Answer says) {
    switch (says) {
    case link::Answer::refused:
        return "refused: these settings contradict each other";
    case link::Answer::unsafe:
        return "refused: on a bike settle is at most 20 ms and hold at most 1.2 s";
    case link::Answer::lines_lit:
        return "refused: only while left, right and brake are dark";
    case link::Answer::busy:
        return "refused: the board is still writing; try again in a second";
    default:
        return "not understood: firmware and program are of different versions";
    }
}

} // namespace

Notice answer_notice(char kind, link::Answer says) {
    if (says == link::Answer::done) return {{}, Notice::About::answer, false, done_text(kind)};
    return {{}, Notice::About::answer, true, fmt::format("{}: {}", request_text(kind), refusal_text(says))};
}

Notice hello_notice(const BoardHello& hello, std::optional<bool> same_vehicle) {
    std::string text = fmt::format("board of vehicle {:08x}, firmware {:08x}, began after {}",
                                   hello.vehicle_hash, hello.build, name(hello.start));
    bool is_trouble = hello.start == link::Start::brown_out || hello.start == link::Start::watchdog;
    if (hello.start == link::Start::brown_out) text += ": its supply broke down, look at its feed and ground";
    if (hello.start == link::Start::watchdog) text += ": its program hung; save the recording and report it";
    if (hello.version != link::version) {
        is_trouble = true;
        text +=
            fmt::format("; its lines are of version {}, this program's of {}: take the same state of both",
                        hello.version, link::version);
    }
    if (same_vehicle == false) {
        is_trouble = true;
        text += "; " + other_vehicle_text();
    }
    return {{}, Notice::About::board, is_trouble, text};
}

std::string other_vehicle_text() {
    return "the vehicle file is not the one this board was built from, so nothing is tuned: give that file, "
           "or build the board anew";
}

Notice settings_notice(const core::Settings& settings, link::Origin origin) {
    std::string text = fmt::format("settings in force ({}):", name(origin));
    for (const NamedSetting& named : named_settings)
        text += fmt::format(" {} {}{}", named.name, value_text(settings, named.name),
                            &named == &named_settings.back() ? "" : ",");
    return {{}, Notice::About::settings, false, text};
}

Notice fault_notice(TimeUs t_us, core::Side side, core::Fault fault, bool comes) {
    return {t_us, Notice::About::fault, comes,
            comes ? fmt::format("{}: {}: {}", name(side), name(fault), advice(fault))
                  : fmt::format("{}: {} is over", name(side), name(fault))};
}

Notice difference_notice(const Difference& difference) {
    return {difference.t_us, Notice::About::difference, true,
            fmt::format("the board shows {}, its own taps and settings make {} here: mark it, keep the "
                        "recording, report it",
                        name(difference.board), name(difference.host))};
}

} // namespace winkhold::live
