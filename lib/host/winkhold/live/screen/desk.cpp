#include "winkhold/live/screen/desk.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/settings_text.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/live/screen/tunables.hpp"

#include <filesystem>
#include <fmt/format.h>

namespace winkhold::live {
namespace {

constexpr std::size_t most_notices = 200;
constexpr std::size_t longest_note = 60;
constexpr std::uint8_t test_level = 200; // bright enough to see by day, and no full load

} // namespace

Desk::Desk(Session& session, std::string port, std::optional<std::string> log, bool replace)
    : session_(session), port_(std::move(port)) {
    if (log) log_.emplace(*log, replace);
    session_.on_notice([this](const Notice& notice) {
        if (notice.about == Notice::About::settings) // they stand on the screen anyway
            settings_came();
        else
            notices_.push_back(notice);
        if (notices_.size() > most_notices) notices_.pop_front();
        if (log_ && notice.about == Notice::About::difference) log_->mark(notice.text, log_->now_us());
    });
}

void Desk::settings_came() {
    const LiveState& state = session_.state();
    say(fmt::format("settings in force now: {}", name(state.origin)));
    if (candidate_ && decoder_edits(in_force(), *candidate_).empty()) undo();
}

void Desk::undo() {
    candidate_.reset();
    what_if_.reset();
}

void Desk::came(std::string_view bytes, TimeUs clock_us) {
    clock_us_ = heard_clock_us_ = clock_us;
    if (log_) log_->add(bytes);
}

void Desk::say(std::string text, bool is_trouble) {
    notices_.push_back({{}, Notice::About::answer, is_trouble, std::move(text)});
}

void Desk::say_why(const std::optional<std::string>& why, std::string_view done) {
    say(why ? *why : std::string(done), why.has_value());
}

core::Settings Desk::in_force() const {
    return session_.state().settings.value_or(core::Settings{});
}

void Desk::key(Key key, char character) {
    if (asks_ != Asks::nothing) return answer_question(key, character);
    switch (key) {
    case Key::up:
        chosen_ = (chosen_ + named_settings.size() - 1) % named_settings.size();
        break;
    case Key::down:
        chosen_ = (chosen_ + 1) % named_settings.size();
        break;
    case Key::left:
        return change(-1);
    case Key::right:
        return change(1);
    case Key::enter:
        if (!candidate_)
            return say("nothing is changed yet: choose by up and down, change by left and right");
        return say_why(session_.try_out(*candidate_), "sent to the board, to be tried");
    case Key::escape:
        return undo();
    case Key::backspace:
        break;
    case Key::character:
        return command(character);
    }
}

void Desk::command(char character) {
    switch (character) {
    case 'q':
        is_done_ = true;
        break;
    case '-':
    case '+':
        change(character == '+' ? 10 : -10);
        break;
    case 's':
        asks_ = Asks::store;
        break;
    case 'x':
        asks_ = Asks::forget;
        break;
    case 'm':
        if (!log_) return say("nothing is recorded: r begins a recording, then m marks a moment in it", true);
        asks_ = Asks::note;
        marked_us_ = log_->now_us() + clock_us_ - heard_clock_us_; // the moment, not the end of the typing
        typed_.clear();
        break;
    case 'r':
        record();
        break;
    case 'l':
        session_.lamp_frames(!session_.state().wants_lamps);
        break;
    case 't':
        if (const auto group = session_.state().tested_group)
            session_.lamp_test(*group, 0);
        else
            asks_ = Asks::lamp;
        break;
    case 'w':
        whole_minute_ = !whole_minute_;
        break;
    default:
        break;
    }
}

void Desk::answer_question(Key key, char character) {
    const Asks asked = asks_;
    if (key == Key::escape) {
        asks_ = Asks::nothing;
        return;
    }
    if (asked == Asks::note) {
        if (key == Key::backspace && !typed_.empty()) typed_.pop_back();
        if (key == Key::character && typed_.size() < longest_note) typed_ += character;
        if (key != Key::enter) return;
        log_->mark(typed_, marked_us_);
        say(fmt::format("mark {} is in {}", log_->marks(), log_->path()));
        asks_ = Asks::nothing;
        return;
    }
    asks_ = Asks::nothing;
    if (key != Key::character) return;
    if (asked == Asks::store && character == 'y') say_why(session_.store(), "asked to store");
    if (asked == Asks::forget && character == 'y') say_why(session_.forget(), "asked to forget");
    if (asked == Asks::lamp && character >= '0' && character <= '9')
        session_.lamp_test(static_cast<unsigned>(character - '0'), test_level);
}

void Desk::change(int steps) {
    const core::Settings from = candidate_.value_or(in_force());
    const core::Settings to = stepped(from, chosen_, steps);
    const std::string_view name = named_settings[chosen_].name;
    if (value_text(from, name) == value_text(to, name))
        return say(fmt::format("{}: no further; settle 20 ms and hold 1.2 s are the most on a bike", name));
    candidate_ = to;
    what_if_.reset();
}

void Desk::record() {
    if (log_) {
        say(fmt::format("{} ends, with {} marks", log_->path(), log_->marks()));
        log_.reset();
        return;
    }
    int number = 1;
    const auto path = [&] { return fmt::format("live-{}.log", number); };
    while (std::filesystem::exists(path()))
        ++number;
    try {
        log_.emplace(path(), false);
        say(fmt::format("recording to {}", path()));
        session_.ask(); // who it is and how it is set belong into the recording
    } catch (const InputError& error) {
        say(error.what(), true);
    }
}

} // namespace winkhold::live
