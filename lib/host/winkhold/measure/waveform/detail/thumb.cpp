#include "winkhold/measure/waveform/detail/thumb.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

constexpr TimeUs silence_before_us = 400'000;
constexpr TimeUs room_after_us = 50'000;

bool comes(double percent, RandomStream& random) {
    return percent >= 100 || random.unit() * 100 < percent;
}

/// Puts them where they belong in time.
void insert(const std::vector<Light>& more, std::vector<Light>& lights) {
    lights.insert(lights.end(), more.begin(), more.end());
    std::stable_sort(lights.begin(), lights.end(),
                     [](const Light& a, const Light& b) { return a.on_us < b.on_us; });
}

} // namespace

std::vector<Light> fumble(const Fumble& model, RandomStream& random, Truth& truth,
                          std::vector<Light>& lights) {
    std::vector<Light> presses;
    TimeUs free_from_us = 0;
    for (Request& request : truth.requests) {
        const TimeUs earliest_us = free_from_us;
        free_from_us = std::max(request.end_us, request.last_light_off_us) + silence_before_us;
        if (request.flashes == 0 || !comes(model.percent, random)) continue;
        const TimeUs off_us = request.first_light_us - draw_us(model.before_us, random);
        const TimeUs on_us = off_us - draw_us(model.for_us, random);
        if (on_us < earliest_us || on_us >= off_us) continue;
        presses.push_back({request.show, on_us, off_us});
        request.start_us = request.first_light_us = on_us;
        request.flashes += request.show == core::Indication::hazard ? 2 : 1;
    }
    insert(presses, lights);
    return presses;
}

std::vector<Light> touch(const Touch& model, RandomStream& random, const Truth& truth,
                         std::vector<Light>& lights) {
    std::vector<Light> touches;
    for (std::size_t i = 0; i < truth.requests.size(); ++i) {
        const Request& request = truth.requests[i];
        const auto side = static_cast<unsigned>(request.show);
        if (request.show == core::Indication::hazard || !comes(model.percent, random)) continue;
        const TimeUs next_us = i + 1 < truth.requests.size() ? truth.requests[i + 1].start_us : truth.end_us;
        const TimeUs on_us =
            std::max(request.end_us, request.last_light_off_us) + draw_us(model.after_us, random);
        const TimeUs off_us = on_us + draw_us(model.for_us, random);
        if (on_us >= off_us || off_us + room_after_us >= next_us) continue;
        touches.push_back(
            {static_cast<core::Indication>(model.other_side ? 3u - side : side), on_us, off_us});
    }
    insert(touches, lights);
    return touches;
}

} // namespace winkhold::measure
