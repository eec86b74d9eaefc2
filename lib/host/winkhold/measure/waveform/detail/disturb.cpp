#include "winkhold/measure/waveform/detail/disturb.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"

namespace winkhold::measure {
namespace {

using core::Indication;
using Taps = Disturbance::Taps;

constexpr double most_of_the_light = 0.6;
constexpr TimeUs apart_us = 5'000; ///< a stray pulse keeps so far from the flashes around it
/// An opening that outlasts the light takes what bounce and skew add to it, too, up to here.
constexpr TimeUs afterglow_us = 100'000;

/// A light and what follows it.
struct Flash {
    Indication show;
    TimeUs on_us;
    TimeUs off_us;
    bool first;               ///< of its request
    TimeUs next_us{never_us}; ///< when the next flash of the same request begins
};

std::vector<Flash> flashes_of(const std::vector<Request>& requests, const std::vector<Light>& lights) {
    std::vector<Flash> flashes;
    std::size_t asked = 0;
    std::size_t before = requests.size(); // the request of the last flash
    for (const Light& light : lights) {
        while (asked < requests.size() && requests[asked].end_us <= light.on_us)
            ++asked;
        if (asked == requests.size()) break;
        if (requests[asked].start_us > light.on_us) continue; // a touch: nobody asks for it
        if (asked == before) flashes.back().next_us = light.on_us;
        flashes.push_back({light.show, light.on_us, light.off_us, asked != before});
        before = asked;
    }
    return flashes;
}

struct Span {
    TimeUs from_us;
    TimeUs to_us;
};

class Disturber {
public:
    Disturber(const Disturbance& model, RandomStream& random)
        : model_(model), random_(random), percent_(draw(model.percent, random)) {
        if (model.taps == Taps::one_bad) bad_ = either();
    }

    void befall(const Flash& flash) {
        if (!concerns(flash) || (percent_ < 100 && random_.unit() * 100 >= percent_)) return;
        const unsigned taps = struck(flash.show);
        for (int i = 0; i < model_.times; ++i)
            if (model_.what == Disturbance::What::breaks)
                open(flash, taps);
            else
                close(flash, taps);
    }

    /// All of it, as changes from low.
    Levels levels(int tap) {
        std::vector<Span>& spans = spans_[tap];
        std::stable_sort(spans.begin(), spans.end(),
                         [](const Span& a, const Span& b) { return a.from_us < b.from_us; });
        Levels levels;
        for (const Span& span : spans)
            if (!levels.empty() && span.from_us <= levels.back().t_us)
                levels.back().t_us = std::max(levels.back().t_us, span.to_us);
            else
                pulse(levels, span.from_us, span.to_us);
        return levels;
    }

private:
    unsigned either() { return random_.unit() < 0.5 ? 1u : 2u; }

    bool concerns(const Flash& flash) const {
        const bool hazard = flash.show == Indication::hazard;
        if (model_.what == Disturbance::What::stray && flash.next_us == never_us) return false;
        if (model_.taps == Taps::other && hazard) return false;
        return model_.flashes == Disturbance::Flashes::all ||
               (model_.flashes == Disturbance::Flashes::first ? flash.first : hazard);
    }

    /// Which taps, as a mask.
    unsigned struck(Indication show) {
        const auto lit = static_cast<unsigned>(show);
        if (model_.taps == Taps::both) return lit;
        if (model_.taps == Taps::other) return 3u & ~lit;
        if (show != Indication::hazard) return lit;
        return model_.taps == Taps::one_bad ? bad_ : either();
    }

    void open(const Flash& flash, unsigned taps) {
        const TimeUs lit_us = flash.off_us - flash.on_us;
        const auto part_of = [this](TimeUs of_us) {
            return static_cast<TimeUs>(random_.unit() * static_cast<double>(of_us));
        };
        TimeUs for_us = draw_us(model_.for_us, random_);
        if (model_.after_us) {
            const TimeUs from_us = flash.on_us + draw_us(*model_.after_us, random_);
            const TimeUs dark_us =
                flash.next_us == never_us ? 2 * afterglow_us : flash.next_us - flash.off_us;
            const TimeUs to_us =
                std::min(from_us + for_us, flash.off_us + std::min(afterglow_us, dark_us / 2));
            if (from_us < flash.off_us) add(taps, from_us, to_us);
        } else if (!model_.hz.zero()) {
            const TimeUs from_us = flash.on_us + part_of(lit_us);
            vibrate(taps, from_us, std::min(flash.off_us, from_us + for_us));
        } else {
            for_us = std::min(for_us, static_cast<TimeUs>(most_of_the_light * static_cast<double>(lit_us)));
            const TimeUs from_us = flash.on_us + part_of(lit_us - for_us);
            add(taps, from_us, from_us + for_us);
        }
    }

    void vibrate(unsigned taps, TimeUs from_us, TimeUs to_us) {
        const double period_us = 1e6 / draw(model_.hz, random_);
        const double open_us = period_us * draw(model_.open_percent, random_) / 100;
        for (auto at_us = static_cast<double>(from_us); at_us < static_cast<double>(to_us);
             at_us += period_us)
            add(taps, static_cast<TimeUs>(at_us), std::min(to_us, static_cast<TimeUs>(at_us + open_us)));
    }

    void close(const Flash& flash, unsigned taps) {
        const TimeUs for_us = draw_us(model_.for_us, random_);
        const TimeUs last_us = flash.next_us - apart_us - for_us; // it may begin
        TimeUs from_us = flash.off_us + (model_.after_us ? draw_us(*model_.after_us, random_) : apart_us);
        if (!model_.after_us && last_us > from_us)
            from_us += static_cast<TimeUs>(random_.unit() * static_cast<double>(last_us - from_us));
        if (from_us <= last_us) add(taps, from_us, from_us + for_us);
    }

    void add(unsigned taps, TimeUs from_us, TimeUs to_us) {
        for (unsigned tap = 0; tap < 2; ++tap)
            if ((taps >> tap & 1u) != 0) spans_[tap].push_back({from_us, to_us});
    }

    const Disturbance& model_;
    RandomStream& random_;
    double percent_;
    unsigned bad_{0};
    std::vector<Span> spans_[2];
};

} // namespace

void disturb(const std::vector<Disturbance>& disturbances, const Truth& truth,
             const std::vector<Light>& lights, RandomStream& random, Levels (&taps)[2]) {
    const std::vector<Flash> flashes = flashes_of(truth.requests, lights);
    for (const Disturbance& model : disturbances) {
        Disturber disturber(model, random);
        for (const Flash& flash : flashes)
            disturber.befall(flash);
        for (int tap = 0; tap < 2; ++tap)
            taps[tap] = model.what == Disturbance::What::breaks
                            ? merged(taps[tap], disturber.levels(tap), cut_out)
                            : merged(taps[tap], disturber.levels(tap), put_in);
    }
}

} // namespace winkhold::measure
