#include "winkhold/taps/hindsight/detail/lattice.hpp"

#include <array>
#include <cmath>

namespace winkhold::taps {
namespace {

double from_log(double log_weight) {
    return std::exp(log_weight);
}

/// Weights of step k over its greatest one; returns the log of that.
double weights(const Lattice& lattice, std::size_t k, StateTable& table) {
    lattice.step(k, table);
    const double greatest = table.maxCoeff();
    table = (table - greatest).unaryExpr(&from_log);
    return greatest;
}

/// Divides by the sum; returns it.
template <class Values>
double normalise(Values&& values) {
    const double sum = values.sum();
    values /= sum;
    return sum;
}

} // namespace

std::vector<std::uint8_t> best_path(const Lattice& lattice) {
    using From = std::array<std::uint8_t, lattice_states>;
    std::vector<From> best_from(lattice.steps);
    StateColumn best = lattice.start;
    StateTable moves;
    for (std::size_t k = 0; k < lattice.steps; ++k) {
        lattice.step(k, moves);
        moves.colwise() += best;
        for (int to = 0; to < lattice_states; ++to) {
            Eigen::Index from = 0;
            best(to) = moves.col(to).maxCoeff(&from);
            best_from[k][static_cast<std::size_t>(to)] = static_cast<std::uint8_t>(from);
        }
    }
    Eigen::Index last = 0;
    (best + lattice.end).maxCoeff(&last);
    std::vector<std::uint8_t> path(lattice.steps + 1, static_cast<std::uint8_t>(last));
    for (std::size_t k = lattice.steps; k-- > 0;)
        path[k] = best_from[k][path[k + 1]];
    return path;
}

Posteriors posteriors(const Lattice& lattice,
                      const std::function<void(std::size_t k, const StateTable& moves)>& moved) {
    const auto steps = static_cast<Eigen::Index>(lattice.steps);
    Posteriors result{.states = StateColumns(lattice_states, steps + 1)};
    StateColumns& states = result.states;
    StateTable table;

    const double greatest_start = lattice.start.maxCoeff();
    states.col(0) = (lattice.start - greatest_start).unaryExpr(&from_log);
    result.log_weight = greatest_start + std::log(normalise(states.col(0)));
    for (Eigen::Index k = 0; k < steps; ++k) {
        result.log_weight += weights(lattice, static_cast<std::size_t>(k), table);
        states.col(k + 1) = (table.matrix().transpose() * states.col(k).matrix()).array();
        result.log_weight += std::log(normalise(states.col(k + 1)));
    }

    const double greatest_end = lattice.end.maxCoeff();
    StateColumn ahead = (lattice.end - greatest_end).unaryExpr(&from_log);
    states.col(steps) *= ahead;
    result.log_weight += greatest_end + std::log(normalise(states.col(steps)));
    for (Eigen::Index k = steps; k-- > 0;) {
        weights(lattice, static_cast<std::size_t>(k), table);
        // what lies before, the move itself, and what lies ahead of it
        const StateColumn before = states.col(k);
        StateTable moves = (table.colwise() * before).rowwise() * ahead.transpose();
        normalise(moves);
        moved(static_cast<std::size_t>(k), moves);
        states.col(k) = moves.rowwise().sum();
        ahead = (table.matrix() * ahead.matrix()).array();
        normalise(ahead);
    }
    return result;
}

} // namespace winkhold::taps
