// The simulated board as a process on a pseudo-terminal, in real time, with a wire that can be made bad. A
// link leads to its end, so that it can be "unplugged": ended and started anew behind the same name.
//
//     pty_board LINK [--for S] [--store FILE] [--lose P] [--flip P] [--double] [--fall-silent S]
//               [--foreign] [--rubbish] [--short] [--hash HEX]
#include "link/simulated_board.hpp"

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <fstream>
#include <pty.h>
#include <random>
#include <termios.h>
#include <thread>
#include <unistd.h>

namespace {

using namespace winkhold;
using core::Lines;

struct Options {
    std::string link;
    std::string store;
    double for_s{600};
    double lose{0};
    double flip{0};
    double silent_from_s{-1};
    bool twice{false};
    bool foreign{false};
    bool rubbish{false};
    bool short_flashes{false};
    std::uint32_t hash{testing::SimulatedBoard::vehicle_hash};
};

/// The wire, both ways.
class Wire {
public:
    explicit Wire(const Options& options) : options_(options) {}
    std::string over(const std::string& bytes) {
        std::string got;
        for (char c : bytes) {
            if (options_.lose > 0 && share_(random_) < options_.lose) continue;
            for (int bit = 0; bit < 8 && options_.flip > 0; ++bit)
                if (share_(random_) < options_.flip) c = static_cast<char>(c ^ (1 << bit));
            got += c;
        }
        if (!options_.twice) return got;
        std::string twice;
        for (const char c : got) {
            line_ += c;
            if (c != '\n') continue;
            twice += line_ + line_;
            line_.clear();
        }
        return twice;
    }

private:
    const Options& options_;
    std::mt19937 random_{7};
    std::uniform_real_distribution<double> share_{0, 1};
    std::string line_;
};

/// Left, right and hazard in turn, 700 ms a flash; with short flashes 300 ms.
std::uint8_t taps_at(std::int64_t ms, bool short_flashes) {
    const std::int64_t period = short_flashes ? 300 : 700;
    const std::int64_t at = ms % 16'000;
    const bool lit = (at % 8'000) % period < period / 2 && at % 8'000 < 6'300;
    if (!lit) return at >= 7'000 && at < 7'500 ? Lines::brake : 0;
    return at < 8'000 ? Lines::left : Lines::right;
}

core::Settings stored_settings(const std::string& file, bool& there) {
    core::Settings settings;
    std::ifstream in(file);
    std::string text;
    there = static_cast<bool>(std::getline(in, text));
    link::Fields fields(text.data(), text.data() + text.size());
    if (there) settings = link::take_settings(fields);
    return settings;
}

void store_settings(const std::string& file, const core::Settings& settings) {
    link::LineWriter line;
    line.begin(0, 's');
    link::put_settings(line, settings);
    std::ofstream(file) << std::string(line.text() + 7, line.size() - 7) << '\n';
}

int run(const Options& options) {
    int ours = -1;
    int theirs = -1;
    char name[64]{};
    termios raw{};
    ::cfmakeraw(&raw);
    if (::openpty(&ours, &theirs, name, &raw, nullptr) != 0) return 1;
    ::fcntl(ours, F_SETFL, O_NONBLOCK);
    const std::string fresh = options.link + ".new";
    ::unlink(fresh.c_str());
    if (::symlink(name, fresh.c_str()) != 0 || ::rename(fresh.c_str(), options.link.c_str()) != 0) return 1;
    std::printf("ready\n");
    std::fflush(stdout);

    bool has_stored = false;
    const core::Settings stored = stored_settings(options.store, has_stored);
    testing::SimulatedBoard board(0, has_stored ? &stored : nullptr, link::Start::power, options.hash);
    Wire up(options);
    Wire down(options);
    std::mt19937 random(11);
    const auto begin = std::chrono::steady_clock::now();
    for (std::int64_t ms = 0; static_cast<double>(ms) < options.for_s * 1e3;) {
        const auto now_ms =
            std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() - begin)
                .count();
        for (; ms < now_ms; ++ms)
            board.run(1'000, taps_at(ms, options.short_flashes));
        std::string said = up.over(board.said());
        const double s = static_cast<double>(ms) / 1e3;
        if (options.silent_from_s >= 0 && s > options.silent_from_s && s < options.silent_from_s + 2)
            said.clear();
        if (options.foreign) said = "#0 T=21.5C RH=40%\r\n";
        if (options.rubbish) {
            said.clear();
            for (int i = 0; i < 2'500; ++i) {
                const auto word = random();
                said.append(reinterpret_cast<const char*>(&word), 4);
            }
        }
        for (std::size_t at = 0; at < said.size();) {
            const ssize_t count = ::write(ours, said.data() + at, said.size() - at);
            if (count <= 0) break; // nobody reads: gone, as on a wire
            at += static_cast<std::size_t>(count);
        }
        char heard[512];
        const ssize_t count = ::read(ours, heard, sizeof heard);
        if (count > 0) board.hear(down.over(std::string(heard, static_cast<std::size_t>(count))));
        const link::StoreWish wish = board.end().take_wish();
        if (wish == link::StoreWish::keep) store_settings(options.store, board.end().tuning().kept());
        if (wish == link::StoreWish::forget) ::unlink(options.store.c_str());
        std::this_thread::sleep_for(std::chrono::milliseconds(options.rubbish ? 1 : 5));
    }
    return 0;
}

} // namespace

int main(int argc, char** argv) {
    Options options;
    for (int i = 1; i < argc; ++i) {
        const std::string word = argv[i];
        const auto value = [&] { return std::string(i + 1 < argc ? argv[++i] : ""); };
        if (word == "--for")
            options.for_s = std::stod(value());
        else if (word == "--store")
            options.store = value();
        else if (word == "--hash")
            options.hash = static_cast<std::uint32_t>(std::stoul(value(), nullptr, 16));
        else if (word == "--lose")
            options.lose = std::stod(value());
        else if (word == "--flip")
            options.flip = std::stod(value());
        else if (word == "--fall-silent")
            options.silent_from_s = std::stod(value());
        else if (word == "--double")
            options.twice = true;
        else if (word == "--foreign")
            options.foreign = true;
        else if (word == "--rubbish")
            options.rubbish = true;
        else if (word == "--short")
            options.short_flashes = true;
        else
            options.link = word;
    }
    return run(options);
}
