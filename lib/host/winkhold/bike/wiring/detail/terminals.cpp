#include "winkhold/bike/wiring/detail/terminals.hpp"

#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <charconv>
#include <initializer_list>

namespace winkhold::bike {
namespace {

using Role = Terminal::Role;

bool any_of(const std::vector<std::string>& words, std::initializer_list<std::string_view> known) {
    return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
        return std::find(known.begin(), known.end(), word) != known.end();
    });
}

std::optional<int> number(std::string_view digits) {
    int value = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (error != std::errc{} || end != digits.data() + digits.size() || value < 0) return {};
    return value;
}

const LampGroup* group_of_pin(const Lamps& lamps, std::string_view pin) {
    for (const LampGroup& group : lamps)
        for (const std::string& one : group.pins)
            if (same_name(one, pin)) return &group;
    return nullptr;
}

/// "sr1", as registers are numbered.
bool looks_like_a_register(std::string_view name) {
    return name.size() > 2 && name.substr(0, 2) == "sr" && number(name.substr(2)).has_value();
}

bool is_register(std::string_view name, const Lamps& lamps) {
    const LampGroup* const group = group_of_pin(lamps, name);
    return looks_like_a_register(name) || (group != nullptr && group->driver == LampDriver::shift_register);
}

/// "sr1.3", "sr1:3", "sr1/3", "sr1 3", "sr1".
bool read_register(std::string_view plain, const Lamps& lamps, Terminal& terminal) {
    const std::size_t mark = plain.find_last_of(".:/ ");
    const std::string_view base = plain.substr(0, mark);
    const std::optional<int> output =
        mark == plain.npos ? std::optional<int>(0) : number(plain.substr(mark + 1));
    if (!output || !is_register(base, lamps)) return false;
    terminal.role = Role::output;
    terminal.driver = LampDriver::shift_register;
    terminal.name = base;
    // ".0" is none of those that are counted from 1
    terminal.output = mark != plain.npos && *output == 0 ? -1 : *output;
    return true;
}

/// "d9 transistor": the words that aren't a driver's are its pin.
bool read_transistor(const std::vector<std::string>& words, Terminal& terminal) {
    const auto is_driver = [](const std::string& word) {
        return any_of({word}, {"transistor", "mosfet", "fet", "drain", "collector", "driver"});
    };
    if (std::none_of(words.begin(), words.end(), is_driver)) return false;
    terminal.role = Role::output;
    terminal.driver = LampDriver::transistor;
    terminal.name.clear();
    for (const std::string& word : words)
        if (!is_driver(word)) terminal.name += (terminal.name.empty() ? "" : " ") + word;
    return true;
}

/// "LED+": the sign belongs to what stands before it.
std::vector<std::string> with_signs_apart(const std::vector<std::string>& words) {
    std::vector<std::string> apart;
    for (const std::string& word : words) {
        const bool is_signed = word.size() > 1 && (word.back() == '+' || word.back() == '-');
        apart.push_back(is_signed ? word.substr(0, word.size() - 1) : word);
        if (is_signed) apart.emplace_back(1, word.back());
    }
    return apart;
}

Role rail_of(const std::vector<std::string>& all_words) {
    const std::vector<std::string> words = with_signs_apart(all_words);
    const bool to_lamps = any_of(words, {"lamp", "lamps", "led", "leds", "light", "lights"});
    if (any_of(words, {"minus", "-", "gnd", "ground", "earth", "0v", "vss"})) return Role::board_ground;
    if (any_of(words, {"plus", "+", "supply", "power", "vin", "vbat", "vcc", "12v", "+12v", "feed"}))
        return to_lamps ? Role::lamp_feed : Role::board_supply;
    return Role::board_other;
}

void read_board(const std::string& plain, const Lamps& lamps, Terminal& terminal) {
    terminal.name = plain;
    const std::vector<std::string> words = words_of(plain);
    if (read_register(plain, lamps, terminal) || read_transistor(words, terminal)) return;
    const LampGroup* const group = group_of_pin(lamps, plain);
    if (group != nullptr && group->driver) {
        terminal.role = group->driver == LampDriver::pin ? Role::pin : Role::output;
        terminal.driver = *group->driver;
        return;
    }
    terminal.role = rail_of(words);
}

/// What joins inside isn't told by the file; other parts are taken for splices, so that no short is missed.
bool is_closed(const std::vector<std::string>& words) {
    if (any_of(words, {"splice", "joint", "junction", "crimp", "solder", "node", "star", "bus"}))
        return false;
    return any_of(words, {"relay",     "switch",    "diode",  "resistor",  "module",     "flasher", "unit",
                          "regulator", "converter", "buzzer", "alarm",     "controller", "box",     "sensor",
                          "bulb",      "lamp",      "horn",   "pilot",     "rectifier",  "motor",   "fusebox",
                          "capacitor", "plug",      "socket", "connector", "optocoupler"});
}

} // namespace

Terminal terminal_of(const WireEnd& end, const Lamps& lamps) {
    using Kind = WireEnd::Kind;
    Terminal terminal;
    terminal.text = text(end);
    terminal.name = plain_name(end.name);
    switch (end.kind) {
    case Kind::battery:
        terminal.role = Role::battery;
        break;
    case Kind::switched:
        terminal.role = Role::switched;
        break;
    case Kind::ground:
        terminal.role = Role::ground;
        break;
    case Kind::tap:
        terminal.role = Role::tap;
        break;
    case Kind::lamps:
        terminal.role = Role::lamps;
        break;
    case Kind::pin:
        terminal.role = Role::pin;
        terminal.driver = LampDriver::pin;
        break;
    case Kind::part:
        terminal.role = is_closed(words_of(terminal.name)) ? Role::closed_part : Role::splice;
        break;
    case Kind::board:
        read_board(terminal.name, lamps, terminal);
        break;
    }
    return terminal;
}

} // namespace winkhold::bike
