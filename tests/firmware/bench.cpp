#include "firmware/bench.hpp"

#include <cmath>

namespace winkhold::testing {
namespace {

constexpr Cycles period = 8 * 256;
/// 12.8 V behind 120 and 47 kilohms.
constexpr unsigned lit_mv = 3602;

} // namespace

Bench::Bench(const std::string& elf, std::vector<std::uint8_t> eeprom) : chip_(elf, std::move(eeprom)) {
    for (std::vector<Shown>& output : outputs_)
        output.push_back({0, 0});
    set(0);
    chip_.on_spi_byte([this](std::uint8_t byte) { chain_ = chain_ << 8 | byte; });
    chip_.on_pin(demo::latch, [this](bool high) {
        if (high && !latch_) latched_ = chain_;
        latch_ = high;
        show_outputs();
    });
    for (const PinNumber pin : {demo::stop, demo::marker_left, demo::marker_right, demo::enable}) {
        meters_[pin];
        chip_.on_pin(pin, [this, pin](bool high) {
            meters_[pin].edge(chip_.now(), high && chip_.drives(pin));
            if (pin != demo::enable) return;
            enabled_ = !high && chip_.drives(pin);
            show_outputs();
        });
    }
    chip_.on_sample([this](unsigned tap) {
        const unsigned before = seen_.back().lines;
        const unsigned lines = (before & ~(1u << tap)) | (lines_ & 1u << tap);
        if (lines != before) seen_.push_back({static_cast<long long>(now_us()), lines});
    });
    chip_.on_reset([this] { // pins float: the pull-up turns the registers' outputs off, pull-downs the lamps
        running_since_us_ = now_us();
        seen_ = {{static_cast<long long>(running_since_us_), 0}};
        enabled_ = latch_ = false;
        show_outputs();
        for (auto& [pin, meter] : meters_)
            meter.edge(chip_.now(), false); // but for the enable's, which nobody reads then
    });
}

void Bench::set(unsigned lines) {
    lines_ = lines;
    for (unsigned tap = 0; tap < 5; ++tap) {
        const bool high = ((lines ^ turned_round_) >> tap & 1) != 0;
        chip_.drive_adc(tap, high ? lit_mv : 0);
        chip_.drive(demo::taps + tap, high);
    }
}

void Bench::play(const Ride& ride) {
    for (const TapChange& change : ride)
        chip_.at(static_cast<Cycles>(change.t_us) * cycles_per_us, [this, change] { set(change.lines); });
}

void Bench::show_outputs() {
    for (unsigned i = 0; i < demo::outputs; ++i) {
        const int level = enabled_ && (latched_ >> i & 1) != 0 ? 255 : 0;
        if (outputs_[i].back().level != level) outputs_[i].push_back({now_us(), level});
    }
}

std::vector<Shown> Bench::pin(PinNumber pin) {
    meters_[pin].look(chip_.now());
    return meters_[pin].shown;
}

int Bench::level_of(PinNumber pin) {
    return this->pin(pin).back().level;
}

void Bench::Meter::edge(Cycles now, bool rises) {
    if (rises == high) return;
    look(now);
    if (rises) {
        if (now - rose < period + 100 && fell > rose) { // a whole period has been seen
            const int level = static_cast<int>(
                std::lround(256.0 * static_cast<double>(fell - rose) / static_cast<double>(period)));
            if (pending == level) show(pending_since, level);
            if (pending != level) pending_since = rose;
            pending = level;
        }
        rose = now;
    } else {
        fell = now;
    }
    high = rises;
}

/// No edge for longer than a period: it is steady.
void Bench::Meter::look(Cycles now) {
    const Cycles since = high ? rose : fell;
    if (now - since <= period + 100) return;
    pending = -1;
    show(since, high ? 255 : 0);
}

/// simavr's edges come up to 4 cycles late, half a level each; so one level up or down is the same.
void Bench::Meter::show(Cycles since, int level) {
    const bool steady = level == 0 || level == 255;
    if (steady ? shown.back().level != level : std::abs(shown.back().level - level) > 1)
        shown.push_back({static_cast<double>(since) / cycles_per_us, level});
}

} // namespace winkhold::testing
