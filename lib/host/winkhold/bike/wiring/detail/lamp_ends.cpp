#include "winkhold/bike/wiring/detail/lamp_ends.hpp"

#include "winkhold/bike/wiring/detail/judges.hpp"

#include <map>
#include <set>

namespace winkhold::bike {

std::vector<std::size_t> GroupWires::bringing(bool Nets::Net::*what) const {
    std::vector<std::size_t> found;
    for (const LampWire& wire : wires)
        if (wire.net->*what) found.push_back(wire.wire);
    return found;
}

std::vector<std::size_t> GroupWires::open() const {
    std::vector<std::size_t> found;
    for (const LampWire& wire : wires)
        if (wire.net->is_open()) found.push_back(wire.wire);
    return found;
}

std::vector<const Terminal*> GroupWires::outputs() const {
    std::vector<const Terminal*> outputs;
    std::set<const Nets::Net*> seen;
    for (const LampWire& wire : wires)
        if (seen.insert(wire.net).second)
            outputs.insert(outputs.end(), wire.net->outputs.begin(), wire.net->outputs.end());
    return outputs;
}

int GroupWires::strings() const {
    const int in_series = group->in_series.value_or(1);
    return (group->plays.count + in_series - 1) / in_series;
}

LampEnds lamp_ends_of(const Wiring& wiring, const Lamps& lamps, const Nets& nets) {
    LampEnds ends;
    std::map<std::string, std::size_t> places;
    for (const LampGroup& group : lamps) {
        places.emplace(plain_name(group.name), ends.size());
        ends.push_back({.group = &group});
    }
    for (std::size_t i = 0; i < wiring.wires.size(); ++i)
        for (const WireEnd* end : {&wiring.wires[i].from, &wiring.wires[i].to}) {
            if (end->kind != WireEnd::Kind::lamps) continue;
            const auto group = places.find(plain_name(end->name));
            if (group != places.end()) ends[group->second].wires.push_back({i, &nets.of_wire(i)});
        }
    return ends;
}

} // namespace winkhold::bike
