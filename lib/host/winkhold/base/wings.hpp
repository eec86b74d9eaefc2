/// The wings of the host library, from the ground up; each sees by plain names what stands below it, and
/// nothing above it. `winkhold::host` is what a program uses: all of them.
#pragma once

namespace winkhold::base {} // namespace winkhold::base
namespace winkhold::taps {  // what a tap says
using namespace base;
}
namespace winkhold::measure { // how good an answer is
using namespace base;
using namespace taps;
} // namespace winkhold::measure
namespace winkhold::bike { // what is built
using namespace base;
using namespace taps;
using namespace measure;
} // namespace winkhold::bike
namespace winkhold::live { // what a board says right now
using namespace base;
using namespace taps;
using namespace measure;
using namespace bike;
} // namespace winkhold::live
namespace winkhold::host {
using namespace base;
using namespace taps;
using namespace measure;
using namespace bike;
using namespace live;
} // namespace winkhold::host
