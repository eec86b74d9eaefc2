// What the decoder's rules say, one tale each, filed under the rule it holds.
#include "core/tale.hpp"

namespace winkhold::testing::tales {
namespace {

const Tale tales[] = {
    // A first light is shown once it has settled; silence is bridged by the hold.
    Tale("the first light counts at once").lit(left, 300).turns(nothing, left, 5),
    Tale("a first pulse counts, too, and is held")
        .lit(left, 20)
        .dark(990)
        .turns(left, nothing, 1'000 - 20 + 20),
    Tale("a plain hold counts from the last high", plain(400))
        .lit(left, 300)
        .dark(600)
        .turns(left, nothing, 400),
    Tale("nothing is known of the gap: hold").lit(left, 300).dark(1'500).turns(left, nothing, 1'000),
    Tale("a gap that somebody has measured", with_prior(400))
        .lit(left, 300)
        .dark(900)
        .turns(left, nothing, 510),
    Tale("which is not believed after anything irregular", with_prior(300))
        .trusted()
        .lit(left, 100)
        .dark(100)
        .lit(left, 100)
        .dark(1'200)
        .turns(left, nothing, 1'000),
    Tale("independent lines both held are a hazard", independent())
        .lit(left, 300)
        .dark(200)
        .lit(right, 300)
        .shows(both)
        .dark(2'000)
        .shows(nothing),

    // Quickness is earned by a regular rhythm.
    Tale("four gaps are needed to know one")
        .flashes(left, 3, 300, 300)
        .lit(left, 300)
        .dark(1'200)
        .shows(left, 600),
    Tale("the silence after a first flash is bridged by hold, whatever is known")
        .trusted()
        .dark(1'200)
        .lit(left, 300)
        .dark(1'200)
        .turns(left, nothing, 1'000),
    Tale("the fifth gap is bridged by what is known, and not longer", uncut())
        .flashes(left, 5, 300, 300)
        .lit(left, 300)
        .dark(900)
        .shows(left, 330)
        .shows(nothing, 480),
    Tale("a trusted rhythm is held for its gap, a 64th and the guard", uncut())
        .trusted()
        .lit(left, 300)
        .dark(600)
        .shows(left, 305)
        .shows(nothing, 325),
    Tale("a few fast flashes are no rhythm: an alarm")
        .flashes(left, 10, 125, 125)
        .lit(left, 125)
        .dark(1'100)
        .shows(left, 900)
        .shows(nothing, 1'000),
    Tale("31 fast flashes are one", uncut())
        .flashes(left, 34, 125, 125)
        .lit(left, 125)
        .dark(900)
        .shows(nothing, 300),
    Tale("fast flashes don't make the usual gap forgotten", uncut())
        .trusted()
        .flashes(left, 12, 100, 100)
        .lit(left, 300)
        .dark(280)
        .shows(left)
        .lit(left, 300)
        .shows(left),

    // A flash cut short proves a cancel.
    Tale("trusted fully, a flash cut short ends its side as its fall settles")
        .trusted()
        .lit(left, 150)
        .dark(500)
        .turns(left, nothing, 5),
    Tale("trusted less, once it has been dark for a blink")
        .flashes(left, 12, 300, 300)
        .lit(left, 150)
        .dark(500)
        .turns(left, nothing, 40),
    Tale("hardly known, it ends by silence alone")
        .flashes(left, 5, 300, 300)
        .lit(left, 150)
        .dark(250)
        .shows(left),
    Tale("a flash within the margin is none cut short").trusted().lit(left, 288).dark(250).shows(left),
    Tale("a request is judged by a whole flash of its own first: a hazard may have a tempo of its own")
        .trusted()
        .dark(2'000)
        .lit(left, 150)
        .dark(300)
        .shows(left)
        .lit(left, 150)
        .dark(250)
        .shows(left),
    Tale("without cut-short silence ends it", uncut()).trusted().lit(left, 150).dark(500).shows(left, 300),
    Tale("a false cut costs all trust: the next one is not believed")
        .trusted()
        .lit(left, 100)
        .dark(60)
        .shows(nothing)
        .lit(left, 140)
        .shows(left)
        .dark(300)
        .flashes(left, 20, 300, 300)
        .lit(left, 100)
        .dark(60)
        .shows(left)
        .lit(left, 140)
        .dark(300),

    // Any light where no flash is due must stand for a blink.
    Tale("a stray pulse in the gap changes nothing")
        .trusted(left)
        .lit(left, 300)
        .dark(150)
        .lit(left, 30)
        .dark(120)
        .shows(left)
        .lit(left, 300)
        .shows(left)
        .dark(300)
        .lit(left, 150)
        .dark(300)
        .turns(left, nothing, 5),
    Tale("a contact that breaks in the light is bridged")
        .flashes(left, 20, 300, 300)
        .lit(left, 120)
        .dark(20)
        .lit(left, 160)
        .shows(left)
        .dark(300)
        .lit(left, 300)
        .shows(left),
    Tale("a pulse on the other side in the dark is never shown")
        .trusted()
        .lit(left, 300)
        .dark(100)
        .lit(right, 39.9)
        .shows(left)
        .dark(160)
        .shows(left)
        .lit(left, 300)
        .shows(left),
    Tale("a newcomer is shown after a blink and takes over")
        .trusted()
        .lit(left, 300)
        .dark(100)
        .lit(right, 300)
        .turns(left, right, 45)
        .dark(300)
        .shows(right),
    Tale("beside a side that is lit a newcomer counts at once")
        .flashes(left, 3, 300, 300)
        .lit(left, 100)
        .lit(both, 200)
        .turns(left, both, 5),
    Tale("a touch after a cancel is never shown")
        .trusted()
        .lit(left, 150)
        .dark(300)
        .shows(nothing)
        .lit(left, 39.9)
        .shows(nothing)
        .dark(300)
        .shows(nothing),
    Tale("pressed again it is shown after a blink")
        .trusted()
        .lit(left, 150)
        .dark(300)
        .lit(left, 300)
        .turns(nothing, left, 45),
    Tale("hum on an open tap never ends the other side")
        .trusted()
        .lit(left, 300)
        .dark(20)
        .flashes(right, 12, 10, 10)
        .dark(40)
        .lit(left, 300)
        .shows(both, 10)
        .dark(300)
        .shows(both) // its first light is held, as any is
        .lit(left, 300)
        .dark(300)
        .lit(left, 300)
        .shows(left),
    Tale("chopped light of a newcomer is shown in the end")
        .lit(right, 20)
        .dark(20)
        .lit(right, 20)
        .dark(20)
        .lit(right, 20)
        .shows(right),

    // Hazard.
    Tale("both sides within the window are a hazard").lit(left, 60).lit(both, 240).turns(left, both, 5),
    Tale("a hazard pressed in the dark of a turn is never a turn of the other side")
        .trusted()
        .lit(left, 300)
        .dark(100)
        .lit(right, 20)
        .shows(left)
        .lit(both, 280)
        .turns(left, both, 5),
    Tale("in a hazard one light counts for both sides")
        .flashes(both, 6, 300, 300)
        .lit(both, 100)
        .lit(right, 200)
        .shows(both)
        .dark(300)
        .shows(both)
        .lit(both, 300)
        .shows(both),
    Tale("a whole flash alone ends the hazard")
        .flashes(both, 6, 200, 200)
        .lit(left, 200)
        .shows(both)
        .dark(100)
        .turns(both, left, 5),
    Tale("or the light of one side that has stood alone for longer than a contact is open")
        .flashes(both, 6, 300, 300)
        .lit(left, 300)
        .turns(both, left, 255),
    Tale("three quarters of a flash are as good as a whole one")
        .flashes(both, 6, 200, 200)
        .lit(both, 49)
        .lit(left, 151)
        .shows(both)
        .dark(100)
        .turns(both, left, 5),
    Tale("less may be a lamp that is out")
        .flashes(both, 6, 200, 200)
        .lit(both, 60)
        .lit(left, 140)
        .dark(100)
        .shows(both),
    Tale("a side of a hazard that has been dark for longer than any gap is let go")
        .flashes(both, 6, 300, 600)
        .lit(both, 100)
        .lit(left, 200)
        .dark(600)
        .lit(left, 300)
        .turns(both, left, 200),
    Tale("a hazard that ends is never a turn, however its sides fall")
        .lit(both, 300)
        .lit(left, 30)
        .dark(1'500)
        .shows(both, 970)
        .turns(both, nothing, 1'000),
    Tale("a flick as the other side lights is no hazard")
        .lit(left, 20)
        .dark(10)
        .lit(right, 300)
        .turns(left, both, 5)
        .turns(both, right, 55),
    Tale("a hazard is cut short by both sides alone")
        .trusted(both)
        .lit(both, 100)
        .lit(left, 200)
        .shows(both)
        .dark(300)
        .shows(both),
    Tale("cut short on both sides it ends at once")
        .trusted(both)
        .lit(both, 100)
        .dark(300)
        .turns(both, nothing, 5),

    // Make before break.
    Tale("the old side ends when it has been dark beside the newcomer for the handover window")
        .lit(left, 300)
        .lit(both, 30)
        .lit(right, 300)
        .turns(both, right, 60),
    Tale("or for the fall window, when the newcomer is older")
        .lit(left, 200)
        .lit(both, 80)
        .lit(right, 300)
        .turns(both, right, 100),

    // The supply.
    Tale("a dip of the supply is no cancel")
        .supply(true)
        .trusted()
        .lit(left, 100)
        .supply(false)
        .dark(60)
        .supply(true)
        .shows(left)
        .lit(left, 140)
        .shows(left)
        .dark(300)
        .shows(left)
        .lit(left, 300)
        .shows(left),
    Tale("the silence after a flash that a dip has shortened is bridged by hold")
        .supply(true)
        .trusted()
        .lit(left, 200)
        .supply(false)
        .dark(90)
        .supply(true)
        .dark(1'200)
        .turns(left, nothing, 910),
    Tale("down for longer, all is off")
        .supply(true)
        .lit(left, 300)
        .supply(false)
        .lit(left, 300)
        .turns(left, nothing, 120),

    // A stuck line.
    Tale("a stuck line stays shown and is told").lit(left, 3'100).shows(left).tells(core::stuck_on),
    Tale("beside a stuck line the other side is decoded")
        .lit(left, 3'500)
        .lit(both, 300)
        .shows(right)
        .lit(left, 300)
        .shows(right),

    // The watch.
    Tale("a lamp out speeds the flasher up")
        .trusted(left, 350, 350)
        .flashes(left, 6, 130, 190)
        .lit(left, 130)
        .tells(core::fast_flash),
    Tale("both sides on one wire move as one").flashes(both, 3, 300, 300).tells(core::as_one),
    Tale("contacts of a relay don't")
        .flashes(both, 2, 300, 300)
        .lit(left, 1)
        .lit(both, 299)
        .dark(300)
        .tells(core::as_one, false),
    Tale("sides that take turns are told")
        .flashes(left, 1, 300, 1)
        .lit(right, 300)
        .lit(left, 300)
        .lit(right, 300)
        .lit(left, 300)
        .lit(right, 300)
        .tells(core::alternating),
};

TEST_P(Tales, HoldAtEveryCadenceAcrossTheWrapAndMirrored) {
    expect_tale(GetParam());
}

INSTANTIATE_TEST_SUITE_P(Rules, Tales, ::testing::ValuesIn(tales), name_of);

} // namespace
} // namespace winkhold::testing::tales
