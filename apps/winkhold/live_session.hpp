/// `winkhold live`: port, session, recording and what shows them, put together.
#pragma once

#include "winkhold/base/time.hpp"

#include <string>

namespace winkhold::app {

/// What was asked for; empty: not.
struct LivePlan {
    std::string port;
    std::string vehicle;
    std::string onto;
    std::string record;
    bool walk{false};
    bool replace{false};
    host::TimeUs for_us{0}; ///< 0: until somebody ends it
};

/// Until it ends; returns the exit code. Throws host::InputError: port, files.
int run_live(const LivePlan& plan);

} // namespace winkhold::app
