#include "winkhold/measure/fit/detail/bursts.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

using core::Indication;

std::vector<Flash> flashes_of(const Inspection& seen) {
    const auto& left = seen.lines[0].lights;
    const auto& right = seen.lines[1].lights;
    const auto of = [](const SeenLight& light, Indication show) {
        return Flash{show, light.on_us, light.off_us, light.whole(), !light.mended};
    };
    std::vector<Flash> flashes;
    std::size_t l = 0, r = 0;
    while (l < left.size() || r < right.size()) {
        const bool both = l < left.size() && r < right.size();
        if (both && one_flash(left[l], right[r])) {
            Flash flash = of(left[l], Indication::hazard);
            flash.on_us = std::min(flash.on_us, right[r].on_us);
            flash.off_us = std::min(flash.off_us, right[r].off_us);
            flash.whole = flash.whole && right[r].whole();
            flash.sure = flash.sure && !right[r].mended;
            flashes.push_back(flash);
            ++l;
            ++r;
        } else if (r == right.size() || (both && left[l].on_us <= right[r].on_us)) {
            flashes.push_back(of(left[l++], Indication::left));
        } else {
            flashes.push_back(of(right[r++], Indication::right));
        }
    }
    return flashes;
}

} // namespace

std::vector<Burst> bursts_of(const Inspection& seen, const BurstGaps& gaps) {
    std::vector<Burst> bursts;
    for (const Flash& flash : flashes_of(seen)) {
        const bool goes_on = !bursts.empty() && bursts.back().back().show == flash.show &&
                             gaps.within(static_cast<double>(flash.on_us - bursts.back().back().off_us));
        if (!goes_on) bursts.emplace_back();
        bursts.back().push_back(flash);
    }
    return bursts;
}

} // namespace winkhold::measure
