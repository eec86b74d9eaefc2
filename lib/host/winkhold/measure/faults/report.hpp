/// `winkhold prove faults`: what a decoder makes of each fault.
#pragma once

#include "winkhold/measure/faults/run.hpp"

#include <string>

namespace winkhold::measure {

/// For people: one line a fault and decoder, then what good behaviour is where a decoder falls short. At most
/// 80 columns, as long as titles and names keep to it.
std::string faults_text(const FaultRun& run);

/// Schema winkhold.faults/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string faults_json(const FaultRun& run);

/// Its words in tables and JSON.
constexpr std::string_view name(FaultVerdict verdict) {
    constexpr std::string_view names[] = {"good", "cannot tell", "falls short"};
    return names[static_cast<std::size_t>(verdict)];
}

} // namespace winkhold::measure
