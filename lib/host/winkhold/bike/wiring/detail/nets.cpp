// The one place that sees Boost.Graph.
#include "winkhold/bike/wiring/detail/nets.hpp"

#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/connected_components.hpp>
#include <boost/property_map/property_map.hpp>
#include <fmt/format.h>
#include <map>

namespace winkhold::bike {
namespace {

using Role = Terminal::Role;
/// Each edge bears the place of its wire.
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                                    boost::property<boost::edge_index_t, std::size_t>>;
using Vertex = boost::graph_traits<Graph>::vertex_descriptor;
using GraphEdge = boost::graph_traits<Graph>::edge_descriptor;

/// Ends with the same key are one terminal.
std::string key_of(const Terminal& terminal, std::size_t end) {
    const int role = static_cast<int>(terminal.role);
    switch (terminal.role) {
    case Role::battery: // one, whatever it is called
    case Role::ground:
    case Role::board_supply:
    case Role::lamp_feed:
    case Role::board_ground:
        return fmt::format("{}", role);
    case Role::lamps:
    case Role::closed_part:
        return fmt::format("{} end {}", role, end);
    case Role::output:
        return fmt::format("{} {} {} {}", role, static_cast<int>(terminal.driver), terminal.output,
                           terminal.name);
    default:
        return fmt::format("{} {}", role, terminal.name);
    }
}

} // namespace

const Terminal* Nets::find(const Net& net, Role role) const {
    const auto found = std::find_if(net.terminals.begin(), net.terminals.end(),
                                    [&](std::size_t one) { return at(one).role == role; });
    return found == net.terminals.end() ? nullptr : &at(*found);
}

std::vector<const Terminal*> Nets::all(const Net& net, Role role) const {
    std::vector<const Terminal*> found;
    for (const std::size_t one : net.terminals)
        if (at(one).role == role) found.push_back(&at(one));
    return found;
}

void Nets::sum_up(Net& net, const Lamps& lamps) const {
    for (const std::size_t place : net.terminals)
        switch (at(place).role) {
        case Role::battery:
        case Role::switched:
        case Role::board_supply:
        case Role::lamp_feed:
            net.plus = true;
            break;
        case Role::ground:
        case Role::board_ground:
            net.ground = true;
            break;
        case Role::tap:
            net.tap = true;
            break;
        case Role::pin:
        case Role::output:
            net.outputs.push_back(&at(place));
            break;
        case Role::closed_part:
        case Role::board_other:
            net.is_part = true;
            break;
        case Role::lamps:
            for (const LampGroup& group : lamps) {
                if (!same_name(group.name, at(place).name)) continue;
                net.left = net.left || group.plays.side == core::Indication::left;
                net.right = net.right || group.plays.side == core::Indication::right;
            }
            break;
        case Role::splice:
            break;
        }
}

Nets::Nets(const Wiring& wiring, const Lamps& lamps) {
    std::map<std::string, std::size_t> places;
    const auto place = [&](const WireEnd& end) {
        Terminal terminal = terminal_of(end, lamps);
        const auto [at, is_new] = places.emplace(key_of(terminal, places.size()), terminals_.size());
        if (is_new) terminals_.push_back(std::move(terminal));
        return at->second;
    };
    Graph graph;
    for (const Wire& wire : wiring.wires) {
        const std::size_t from = place(wire.from);
        const std::size_t to = place(wire.to);
        boost::add_edge(from, to, ends_.size(), graph);
        ends_.push_back({from, to});
    }
    net_of_.resize(terminals_.size());
    const std::size_t count = terminals_.empty() ? 0 : boost::connected_components(graph, net_of_.data());
    nets_.resize(count);
    for (std::size_t i = 0; i < terminals_.size(); ++i)
        nets_[net_of_[i]].terminals.push_back(i);
    for (std::size_t i = 0; i < ends_.size(); ++i)
        nets_[net_of_[ends_[i][0]]].wires.push_back(i);
    for (Net& net : nets_)
        sum_up(net, lamps);
}

std::vector<std::size_t> Nets::way(const Net& net, const Terminal& from, const Terminal& to) const {
    std::map<std::size_t, Vertex> inside; // the net's own terminals, counted anew
    for (const std::size_t terminal : net.terminals)
        inside.emplace(terminal, inside.size());
    Graph graph(inside.size());
    for (const std::size_t wire : net.wires)
        boost::add_edge(inside[ends_[wire][0]], inside[ends_[wire][1]], wire, graph);

    struct Came {
        std::size_t wire;
        Vertex from;
    };
    std::map<Vertex, Came> came;
    struct Remember : boost::default_bfs_visitor {
        std::map<Vertex, Came>* came;
        explicit Remember(std::map<Vertex, Came>* to) : came(to) {}
        void tree_edge(const GraphEdge& edge, const Graph& graph) const {
            came->emplace(boost::target(edge, graph),
                          Came{boost::get(boost::edge_index, graph, edge), boost::source(edge, graph)});
        }
    };
    const Vertex start = inside.at(place_of(from));
    boost::breadth_first_search(graph, start, boost::visitor(Remember(&came)));
    std::vector<std::size_t> way;
    for (Vertex at = inside.at(place_of(to)); at != start; at = came.at(at).from)
        way.push_back(came.at(at).wire);
    std::reverse(way.begin(), way.end());
    return way;
}

} // namespace winkhold::bike
