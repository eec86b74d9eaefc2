/// What has to be bought, from what was computed of a vehicle.
#pragma once

#include "winkhold/base/vehicle/known.hpp"

#include <string>
#include <vector>

namespace winkhold::bike {

/// Alike parts, wherever they go.
struct PartRow {
    std::string part;  ///< "resistor", "fuse", "wire"
    std::string value; ///< what to ask for: "510 ohm, 5 %, 0.5 W or more"
    double count{0};   ///< pieces, or metres
    std::string unit;  ///< "" for pieces, "m"
    double spare{0};   ///< besides: a tenth and at least one; of fuses two; of wire a tenth (common practice)
    std::string use;   ///< what for
};

/// Everything to buy.
struct PartsList {
    std::string vehicle;
    std::vector<PartRow> rows;
    StillExample still_example;
    std::vector<std::string> missing; ///< what could not be computed, a sentence each
};

/// Throws InputError as the readers of the sections.
PartsList parts_of(const Vehicle& vehicle);

/// Each but CSV with the caution.
std::string parts_text(const PartsList& parts);
/// The same, to be printed.
std::string parts_markdown(const PartsList& parts);
/// RFC 4180; what is missing comes last, as rows whose part is "missing".
std::string parts_csv(const PartsList& parts);
/// Schema winkhold.parts/1.
std::string parts_json(const PartsList& parts);

} // namespace winkhold::bike
