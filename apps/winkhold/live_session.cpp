#include "live_session.hpp"

#include "live_terminal.hpp"
#include "output.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/base/vehicle/section_edit.hpp"
#include "winkhold/live/port/port_loop.hpp"
#include "winkhold/live/screen/lines.hpp"
#include "winkhold/live/session/walk.hpp"
#include "winkhold/taps/link/board_log.hpp"

#include <csignal>
#include <ctime>
#include <fmt/format.h>
#include <iostream>
#include <memory>
#include <optional>
#include <unistd.h>
#include <utility>

namespace winkhold::app {
namespace {

std::optional<std::uint32_t> hash_of(const LivePlan& plan) {
    const std::string& file = plan.onto.empty() ? plan.vehicle : plan.onto;
    if (file.empty()) return std::nullopt;
    const host::Vehicle vehicle = host::Vehicle::read(file);
    host::decoder_settings(vehicle,
                           core::Settings{}); // a section that can't be read is told before, not after
    return vehicle.hash();
}

/// What shows a session.
class Front {
public:
    virtual ~Front() = default;
    virtual void came(std::string_view bytes, host::TimeUs clock_us) = 0;
    virtual void passed(host::TimeUs) {}
    virtual bool keys() { return false; }
    virtual void resized() {}
    /// The session is over.
    virtual void finish() {}
};

/// Plain lines as they come.
class Lines : public Front {
public:
    Lines(host::Session& session, host::PortLoop& port, const LivePlan& plan) : port_(port) {
        if (!plan.record.empty()) log_.emplace(plan.record, plan.replace);
        fmt::print(stderr, "{}\n", host::live_caution);
        session.on_edge([this](const host::Edge& edge) { print(host::edge_line(edge)); });
        session.on_indication(
            [this](const host::IndicationChange& change) { print(host::indication_line(change)); });
        session.on_notice([this](const host::Notice& notice) {
            print(host::notice_lines(notice));
            if (log_ && notice.about == host::Notice::About::difference)
                log_->mark(notice.text, log_->now_us());
        });
    }
    void came(std::string_view bytes, host::TimeUs) override {
        if (log_) log_->add(bytes);
    }

private:
    void print(const std::string& lines) {
        std::cout << lines << std::flush;
        if (!std::cout) port_.stop();
    }

    host::PortLoop& port_;
    std::optional<host::BoardLog> log_;
};

/// The screen, drawn a few times a second and after each key.
class Screen : public Front {
public:
    Screen(host::Session& session, host::PortLoop& port, const LivePlan& plan)
        : port_(port), desk_(session, plan.port,
                             plan.record.empty() ? std::nullopt : std::optional(plan.record), plan.replace) {
        port.watch_terminal();
    }
    void came(std::string_view bytes, host::TimeUs clock_us) override { desk_.came(bytes, clock_us); }
    void passed(host::TimeUs clock_us) override {
        clock_us_ = clock_us;
        if (clock_us - drawn_us_ >= calm_us) draw();
    }
    bool keys() override {
        while (const auto key = terminal_.key())
            desk_.key(key->first, key->second);
        if (desk_.is_done()) port_.stop();
        draw();
        return true;
    }
    void resized() override {
        terminal_.resized();
        draw();
    }

private:
    static constexpr host::TimeUs calm_us = 200'000;

    void draw() {
        drawn_us_ = clock_us_;
        terminal_.show(desk_.draw(terminal_.size(), clock_us_));
    }

    host::PortLoop& port_;
    host::Desk desk_;
    Terminal terminal_;
    host::TimeUs clock_us_{0};
    host::TimeUs drawn_us_{0};
};

/// Asks for one function after the other; words come from standard input, a line each.
class Guide : public Front {
public:
    Guide(host::Session& session, host::PortLoop& port, const LivePlan& plan)
        : port_(port), plan_(plan), walk_(session) {
        if (!plan.record.empty()) log_.emplace(plan.record, plan.replace);
        fmt::print(stderr, "{}\n", host::live_caution);
        say("It goes on by itself. Enter leaves out what is asked for, q ends.");
        session.on_notice([](const host::Notice& notice) {
            if (notice.is_trouble) std::cout << host::notice_lines(notice) << std::flush;
        });
        port.watch_terminal();
    }
    void came(std::string_view bytes, host::TimeUs) override {
        if (log_) log_->add(bytes);
    }
    void passed(host::TimeUs) override {
        walk_.passed();
        for (; told_ < walk_.findings().size(); ++told_)
            if (const auto& one = walk_.findings()[told_]; one.value)
                say(fmt::format("  {} {:.1f} ({})", one.what, *one.value, one.note));
        if (walk_.is_done()) return port_.stop();
        ask(walk_.question().empty() ? std::string(walk_.asks())
                                     : fmt::format("  {} y or n", walk_.question()));
    }
    bool keys() override {
        char bytes[256];
        const ssize_t count = ::read(STDIN_FILENO, bytes, sizeof bytes);
        for (ssize_t i = 0; i < count; ++i)
            if (bytes[i] != '\n')
                typed_ += bytes[i];
            else
                word(std::exchange(typed_, {}));
        return count > 0;
    }
    void finish() override {
        const std::time_t now = std::time(nullptr);
        char day[16]{};
        std::strftime(day, sizeof day, "%Y-%m-%d", std::localtime(&now));
        const std::string added = host::write_measured(plan_.onto, walk_.findings(), day);
        if (added.empty())
            fmt::print(stderr, "{}: nothing new is measured\n", plan_.onto);
        else
            fmt::print(stderr, "Added to {}:\n{}", plan_.onto, added);
    }

private:
    void word(const std::string& word) {
        if (word == "q") return port_.stop();
        if (walk_.question().empty() || word.empty())
            walk_.skip();
        else if (word == "y")
            walk_.yes();
        else if (word == "n")
            walk_.no();
        asked_.clear();
    }
    void ask(const std::string& text) {
        if (text != asked_) say(text);
        asked_ = text;
    }
    void say(const std::string& text) {
        std::cout << text << '\n' << std::flush;
        if (!std::cout) port_.stop();
    }

    host::PortLoop& port_;
    const LivePlan& plan_;
    host::Walk walk_;
    std::optional<host::BoardLog> log_;
    std::size_t told_{0};
    std::string asked_;
    std::string typed_;
};

class LiveRun : host::PortListener {
public:
    explicit LiveRun(const LivePlan& plan) : plan_(plan), session_(hash_of(plan)), port_(plan.port, *this) {
        session_.on_write([this](std::string_view bytes) { port_.write(bytes); });
    }

    int run() {
        std::signal(SIGPIPE, SIG_IGN); // a reader that has gone ends the run, not the program
        if (plan_.walk)
            front_ = std::make_unique<Guide>(session_, port_, plan_);
        else if (::isatty(STDOUT_FILENO) != 0 && ::isatty(STDIN_FILENO) != 0)
            front_ = std::make_unique<Screen>(session_, port_, plan_);
        else
            front_ = std::make_unique<Lines>(session_, port_, plan_);
        port_.run(plan_.for_us);
        front_->finish();
        front_.reset(); // gives the terminal back
        fmt::print(stderr, "{}", host::health_lines(session_.state()));
        bring_home();
        const host::LiveState& state = session_.state();
        return state.health.lines == 0 || state.health.missing > 0 || state.differences > 0 ? 1 : 0;
    }

private:
    void came(std::string_view bytes, host::TimeUs clock_us) override {
        front_->came(bytes, clock_us);
        session_.received(bytes, clock_us);
    }
    void passed(host::TimeUs clock_us) override {
        session_.passed(clock_us);
        front_->passed(clock_us);
    }
    void gone(const std::string& why) override { session_.port_gone(why); }
    void back() override { session_.port_back(); }
    bool keys() override { return front_->keys(); }
    void resized() override { front_->resized(); }

    /// What is stored on the board goes into the vehicle file.
    void bring_home() const {
        if (plan_.onto.empty()) return;
        const host::LiveState& state = session_.state();
        const auto stays = [&](std::string_view why) {
            fmt::print(stderr, "{}: {}, so its [decoder] stays as it is\n", plan_.onto, why);
        };
        if (!state.settings || !state.hello) return stays("the board never said what it is set to");
        if (state.same_vehicle != true) return stays("the board was built from another file");
        if (state.origin != link::Origin::stored) return stays("nothing is stored on the board");
        const core::Settings before =
            host::decoder_settings(host::Vehicle::read(plan_.onto), core::Settings{});
        const std::string difference =
            host::edit_file(plan_.onto, host::decoder_edits(before, *state.settings));
        tell_edited(plan_.onto, difference);
        if (!difference.empty())
            fmt::print(stderr,
                       "The file is another now: build the board from it before it is tuned again.\n");
    }

    const LivePlan& plan_;
    host::Session session_;
    host::PortLoop port_;
    std::unique_ptr<Front> front_;
};

} // namespace

int run_live(const LivePlan& plan) {
    return LiveRun(plan).run();
}

} // namespace winkhold::app
