// What planted faults (tests/mutation/) showed to be held by no other tale.
#include "core/tale.hpp"

namespace winkhold::testing::tales {
namespace {

/// A contact that breaks all the time, and never twice for as long: the flash goes on and on.
Tale broken_for_16_seconds() {
    Tale tale("a flash that goes on for longer than the clock can tell has not just risen");
    tale.flashes(left, 3, 300, 300);
    for (int i = 0; i < 36; ++i)
        tale.lit(left, 150).dark(60).lit(left, 150).dark(100);
    return tale.lit(left, 235); // 16'795 ms after its rise; 2^24 us are 16'777
}

const Tale more_tales[] = {
    broken_for_16_seconds().lit(both, 130).lit(right, 300).turns(both, right, 100),
    Tale("a plain hold stays what it is, whatever is learned", plain(400))
        .trusted()
        .lit(left, 300)
        .dark(900)
        .turns(left, nothing, 400),
    Tale("gaps that lie far apart widen the margin by an eighth at most", uncut())
        .flashes(left, 1, 300, 300)
        .lit(left, 300)
        .dark(240)
        .flashes(left, 1, 300, 300)
        .lit(left, 300)
        .dark(240)
        .flashes(left, 20, 300, 300)
        .lit(left, 300)
        .dark(600)
        .shows(left, 350)
        .shows(nothing, 370),
    Tale("a usual gap is remembered through thirty fast flashes", uncut())
        .flashes(left, 21, 300, 300)
        .flashes(left, 30, 150, 150)
        .lit(left, 150)
        .dark(300)
        .shows(left),
    Tale("sixteen gaps are enough for the least margin", uncut())
        .flashes(left, 16, 300, 300)
        .lit(left, 300)
        .dark(600)
        .shows(left, 315)
        .shows(nothing, 328),
    Tale("a new rhythm is as good as any: its gaps are bridged no longer than they ask for")
        .trusted()
        .flashes(left, 8, 130, 170)
        .lit(left, 130)
        .dark(1'000)
        .shows(left, 300)
        .shows(nothing, 460),
    Tale("chatter takes the trust: the next cut is not believed")
        .trusted()
        .lit(left, 295)
        .dark(20)
        .lit(left, 30)
        .dark(300)
        .lit(left, 100)
        .dark(60)
        .shows(left),
    Tale("a light that goes on after a cut is stuck by what it lasts from there")
        .flashes(left, 12, 300, 300)
        .lit(left, 100)
        .dark(20)
        .lit(left, 3'010)
        .tells(core::stuck_on),
    Tale("a hazard is cut short at full trust only")
        .flashes(both, 10, 300, 300)
        .lit(both, 100)
        .dark(60)
        .shows(both),
    Tale("a lamp of a hazard that falls late does not cost the trust")
        .trusted(both)
        .lit(both, 300)
        .lit(right, 60)
        .dark(240)
        .lit(both, 300)
        .dark(1'500)
        .shows(nothing, 450),
    Tale("a first light that comes back beside the other side's is none of a flick")
        .lit(left, 20)
        .dark(10)
        .lit(right, 20)
        .lit(both, 250)
        .lit(right, 250)
        .shows(both),
    Tale("a supply that comes back in a flash excuses nothing anew")
        .supply(true)
        .trusted()
        .lit(left, 300)
        .dark(260)
        .supply(false)
        .dark(40)
        .lit(left, 60)
        .supply(true)
        .lit(left, 240)
        .dark(300)
        .lit(left, 100)
        .dark(60)
        .shows(nothing),
};

INSTANTIATE_TEST_SUITE_P(Gaps, Tales, ::testing::ValuesIn(more_tales), name_of);

} // namespace
} // namespace winkhold::testing::tales
