#include "winkhold/live/session/session.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/live/session/detail/outbox.hpp"
#include "winkhold/live/session/detail/words.hpp"

#include <boost/signals2/dummy_mutex.hpp>
#include <boost/signals2/signal_type.hpp>
#include <fmt/format.h>

namespace winkhold::live {
namespace {

namespace sig = boost::signals2;

template <class Signature>
using Signal = typename sig::signal_type<Signature, sig::keywords::mutex_type<sig::dummy_mutex>>::type;

constexpr TimeUs keep_alive_us = 10'000'000; // a sixth of the board's patience
constexpr TimeUs silence_us = 3'000'000;     // three heartbeats
constexpr TimeUs ask_again_us = 2'000'000;
constexpr TimeUs lamp_test_us = 10'000'000;
constexpr std::int64_t telling_bytes = 500; // so many without a line are somebody else's

bool same(const core::Settings& a, const core::Settings& b) {
    const auto text = [](const core::Settings& settings) {
        link::LineWriter line;
        line.begin(0, link::up::settings);
        link::put_settings(line, settings);
        return std::string(line.text(), line.size());
    };
    return text(a) == text(b);
}

Trust trust_of(const core::Rhythm& rhythm) {
    if (rhythm.trusts_fully()) return Trust::full;
    if (rhythm.trusts_cuts()) return Trust::cuts;
    if (rhythm.is_irregular()) return Trust::irregular;
    return rhythm.knows_gap() ? Trust::some : Trust::none;
}

} // namespace

struct Session::Parts : BoardListener {
    explicit Parts(std::optional<std::uint32_t> hash)
        : vehicle_hash(hash), outbox([this](std::string_view bytes) { on_write(bytes); }) {}

    void hello(const BoardHello& said) override {
        const bool is_news =
            !state.hello || restarted_since_hello || state.hello->vehicle_hash != said.vehicle_hash;
        restarted_since_hello = false;
        state.hello = said;
        if (vehicle_hash) state.same_vehicle = *vehicle_hash == said.vehicle_hash;
        if (is_news) on_notice(hello_notice(said, state.same_vehicle));
    }
    void settings(const core::Settings& said, link::Origin origin) override {
        const bool is_news = !state.settings || origin != state.origin || !same(*state.settings, said);
        state.settings = said;
        state.origin = origin;
        if (state.waiting && same(*state.waiting, said)) state.waiting.reset();
        host.settings(said);
        if (is_news) on_notice(settings_notice(said, origin));
    }
    void edge(TimeUs t_us, core::Lines lines) override {
        state.now_us = t_us;
        if (state.raw == lines) return;
        state.raw = lines;
        host.edge(t_us, lines);
        taps.add({t_us, lines});
        on_edge({t_us, lines});
        if (state.tested_group && (lines.bits() & ~core::Lines::tail & ~core::Lines::supply) != 0)
            state.tested_group.reset(); // the board ends it by itself
    }
    void indication(TimeUs t_us, core::Indication said, core::Lines lines) override {
        if (state.settled != lines) settled.add({t_us, lines});
        meter.settled(t_us, lines);
        state.settled = lines;
        shows(t_us, said);
    }
    void faults(TimeUs t_us, std::uint8_t left, std::uint8_t right) override {
        state.now_us = t_us;
        const std::array<std::uint8_t, 2> said{left, right};
        for (const core::Side side : core::both_sides) {
            std::uint8_t& known = state.faults[static_cast<std::size_t>(side)];
            const std::uint8_t now = said[static_cast<std::size_t>(side)];
            for (const core::Fault fault : all_faults)
                if (((known ^ now) & fault) != 0)
                    on_notice(fault_notice(t_us, side, fault, (now & fault) != 0));
            known = now;
        }
    }
    void lamps(TimeUs t_us, unsigned group, const core::GroupFrame& frame) override {
        state.now_us = t_us;
        if (group < state.lamps.size()) state.lamps[group] = frame;
    }
    void counters(const BoardCounters& said) override {
        if (state.counters && said.dropped_edges > state.counters->dropped_edges) {
            lost();
            trouble(Notice::About::link,
                    fmt::format("the board's port was too slow, {} edges are lost: switch lamp frames off",
                                said.dropped_edges - state.counters->dropped_edges));
        }
        state.counters = said;
    }
    void heartbeat(TimeUs t_us, core::Lines lines, core::Indication said) override {
        if (state.raw && state.raw != lines) lost();
        edge(t_us, lines);
        shows(t_us, said);
    }
    void answer(const BoardAnswer& said) override {
        const auto sent = outbox.answered(said.to);
        if (!sent) return;
        const bool done = said.says == link::Answer::done;
        if (sent->kind == link::down::settings && done) state.waiting = tried;
        if (sent->kind == link::down::lamp_test && !done) state.tested_group.reset();
        if (done && (sent->kind == link::down::store || sent->kind == link::down::forget)) wants_ask = true;
        if (done && sent->kind == link::down::forget) state.waiting.reset();
        const Notice notice = answer_notice(sent->kind, said.says);
        if (!notice.text.empty()) on_notice(notice);
    }
    void missing(std::int64_t lines) override {
        lost();
        missing_now += lines;
    }
    void restarted(TimeUs t_us) override {
        host.restarted();
        meter.interrupted();
        state.raw.reset();
        state.waiting.reset();
        state.tested_group.reset();
        state.faults = {};
        state.lamps = {};
        state.counters.reset();
        restarted_since_hello = wants_ask = wants_frames = true;
        on_notice({t_us, Notice::About::board, true,
                   "the board began anew: settings that were tried and not stored are gone"});
    }

    /// What it shows now, told or repeated.
    void shows(TimeUs t_us, core::Indication said) {
        state.now_us = t_us;
        if (state.shown != said) {
            state.shown = said;
            shown.add({t_us, said});
            on_indication({t_us, said});
        }
        if (const auto difference = host.shown(t_us, said)) {
            state.last_difference = difference;
            on_notice(difference_notice(*difference));
        }
    }
    void lost() {
        host.missing();
        meter.interrupted();
        wants_ask = true;
    }
    void trouble(Notice::About about, std::string text) {
        on_notice({state.now_us, about, true, std::move(text)});
    }

    void received(std::string_view bytes) {
        const std::int64_t lines = link.health().lines;
        link.feed(bytes, *this);
        bytes_since_line += static_cast<std::int64_t>(bytes.size());
        if (link.health().lines != lines) {
            if (told_silence)
                on_notice({state.now_us, Notice::About::link, false, "the board is heard again"});
            heard_us = now_us;
            heard = true;
            bytes_since_line = 0;
            told_silence = false;
        }
        if (missing_now > 0)
            trouble(Notice::About::link,
                    fmt::format("lines missing: {}; figures and the check of the answer start anew, look at "
                                "the cable if it goes on",
                                missing_now));
        missing_now = 0;
        refresh();
    }
    void passed() {
        if (!begun_us) begun_us = heard_us = now_us;
        if (!state.port_open) return;
        if (wants_ask && now_us - asked_us.value_or(now_us - ask_again_us) >= ask_again_us) {
            wants_ask = false;
            asked_us = now_us;
            outbox.send(link::down::ask, now_us);
        }
        if (wants_frames && state.wants_lamps) send_lamp_frames();
        if ((state.origin == link::Origin::tried || state.waiting) && now_us - spoke_us >= keep_alive_us) {
            spoke_us = now_us;
            outbox.send(link::down::here, now_us);
        }
        if (state.tested_group && now_us - tested_us >= lamp_test_us) test_lamps(*state.tested_group, 0);
        if (const auto in_vain = outbox.passed(now_us)) {
            ++state.unanswered;
            if (in_vain->kind == link::down::ask)
                wants_ask = true;
            else if (heard && !told_silence)
                trouble(Notice::About::answer,
                        fmt::format("{}: the board did not answer; try again", request_text(in_vain->kind)));
            if (in_vain->kind == link::down::lamp_test) state.tested_group.reset();
        }
        if (!told_silence && now_us - heard_us >= silence_us) {
            told_silence = true;
            trouble(Notice::About::link,
                    bytes_since_line >= telling_bytes
                        ? "bytes come, but no line of a board of Winkhold's: another device on this port, "
                          "other firmware, or a noisy cable (250000 baud is asked for)"
                        : "nothing has been heard for 3 s: is the key on, is the cable in?");
        }
        refresh();
    }
    void refresh() {
        state.health = link.health();
        state.in_step = host.in_step();
        state.differences = host.differences();
        state.silent_us = heard ? std::optional(now_us - heard_us) : std::nullopt;
        const core::Intent& intent = host.decoder().intent();
        state.trust = trust_of(intent.rhythm());
        const core::Context context(host.decoder().settings());
        for (const core::Side side : core::both_sides) {
            const auto i = static_cast<std::size_t>(side);
            state.flashes[i] = meter.figures(side);
            state.hold_us[i] = core::hold_for_us(intent.rhythm(), intent.on_beat(side), context);
        }
    }

    std::optional<std::string> why_not() const {
        if (!state.port_open) return "the port is gone; wait until it is back";
        if (!state.hello || !state.settings)
            return "the board has not said yet who it is; wait for it, or look at the cable";
        if (state.same_vehicle == false) return other_vehicle_text();
        if (state.hello->version != link::version) return "the board's lines are of another version";
        return std::nullopt;
    }
    void send(char kind, const std::function<void(link::LineWriter&)>& fields = {}) {
        spoke_us = now_us;
        outbox.send(kind, now_us, fields);
    }
    void send_lamp_frames() {
        wants_frames = false;
        send(link::down::lamps, [&](link::LineWriter& line) { line.number(state.wants_lamps ? 1 : 0); });
    }
    void test_lamps(unsigned group, std::uint8_t level) {
        state.tested_group = level == 0 ? std::nullopt : std::optional(group);
        tested_us = now_us;
        send(link::down::lamp_test, [&](link::LineWriter& line) {
            line.number(group);
            line.number(level);
        });
    }

    std::optional<std::uint32_t> vehicle_hash;
    Signal<void(const Edge&)> on_edge;
    Signal<void(const IndicationChange&)> on_indication;
    Signal<void(const Notice&)> on_notice;
    Signal<void(std::string_view)> on_write;

    BoardLink link;
    Outbox outbox;
    HostAnswer host;
    FlashMeter meter;
    LiveState state;
    Remembered<Edge> taps;
    Remembered<Edge> settled;
    Remembered<IndicationChange> shown;
    core::Settings tried;

    TimeUs now_us{0};
    std::optional<TimeUs> begun_us;
    TimeUs heard_us{0};
    std::optional<TimeUs> asked_us;
    TimeUs spoke_us{0};
    TimeUs tested_us{0};
    bool heard{false};
    bool told_silence{false};
    bool restarted_since_hello{false};
    bool wants_ask{true};
    bool wants_frames{false};
    std::int64_t missing_now{0};
    std::int64_t bytes_since_line{0};
};

Session::Session(std::optional<std::uint32_t> vehicle_hash) : parts_(std::make_unique<Parts>(vehicle_hash)) {}
Session::~Session() = default;

void Session::on_edge(std::function<void(const Edge&)> listener) {
    parts_->on_edge.connect(std::move(listener));
}
void Session::on_indication(std::function<void(const IndicationChange&)> listener) {
    parts_->on_indication.connect(std::move(listener));
}
void Session::on_notice(std::function<void(const Notice&)> listener) {
    parts_->on_notice.connect(std::move(listener));
}
void Session::on_write(std::function<void(std::string_view)> listener) {
    parts_->on_write.connect(std::move(listener));
}

void Session::received(std::string_view bytes, TimeUs clock_us) {
    parts_->now_us = clock_us;
    parts_->received(bytes);
}
void Session::passed(TimeUs clock_us) {
    parts_->now_us = clock_us;
    parts_->passed();
}
void Session::port_gone(std::string_view why) {
    parts_->state.port_open = false;
    parts_->link.stop();
    parts_->outbox.clear();
    parts_->lost();
    parts_->trouble(Notice::About::link, fmt::format("{}; it is opened again as soon as it is back", why));
}
void Session::port_back() {
    parts_->state.port_open = true;
    parts_->heard_us = parts_->now_us;
    parts_->told_silence = false;
    parts_->asked_us.reset();
    parts_->wants_ask = parts_->wants_frames = true;
    parts_->on_notice({parts_->state.now_us, Notice::About::link, false, "the port is back"});
}

void Session::ask() {
    parts_->asked_us.reset();
    parts_->wants_ask = true;
}
std::optional<std::string> Session::try_out(const core::Settings& settings) {
    if (auto why = parts_->why_not()) return why;
    if (core::check(settings) != core::SettingsError::none || !link::allowed_on_a_bike(settings))
        return "these settings contradict each other, or are none for a bike: settle at most 20 ms, hold at "
               "most 1.2 s";
    parts_->tried = settings;
    parts_->send(link::down::settings, [&](link::LineWriter& line) { link::put_settings(line, settings); });
    return std::nullopt;
}
std::optional<std::string> Session::store() {
    if (auto why = parts_->why_not()) return why;
    parts_->send(link::down::store);
    return std::nullopt;
}
std::optional<std::string> Session::forget() {
    if (auto why = parts_->why_not()) return why;
    parts_->send(link::down::forget);
    return std::nullopt;
}
void Session::lamp_frames(bool wanted) {
    parts_->state.wants_lamps = wanted;
    if (!wanted) parts_->state.lamps = {};
    parts_->send_lamp_frames();
}
void Session::lamp_test(unsigned group, std::uint8_t level) {
    parts_->test_lamps(group, level);
}

const LiveState& Session::state() const {
    return parts_->state;
}
const std::deque<Edge>& Session::taps() const {
    return parts_->taps.changes();
}
const std::deque<Edge>& Session::settled() const {
    return parts_->settled.changes();
}
const std::deque<IndicationChange>& Session::shown() const {
    return parts_->shown.changes();
}
Timeline Session::answer_with(const core::Settings& settings) const {
    const std::deque<Edge>& edges = taps();
    return decode({{edges.begin(), edges.end()}, parts_->state.now_us.value_or(0)}, settings);
}

} // namespace winkhold::live
