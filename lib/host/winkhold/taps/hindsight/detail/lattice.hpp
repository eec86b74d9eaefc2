/// A chain of hidden states in which every step has weights of its own: best path and posteriors.
#pragma once

#include "winkhold/base/wings.hpp"

#include <Eigen/Core>
#include <cstdint>
#include <functional>
#include <vector>

namespace winkhold::taps {

/// Hidden states of the smoother: four indications in two rhythms.
inline constexpr int lattice_states = 8;

/// One figure for each state.
using StateColumn = Eigen::Array<double, lattice_states, 1>;
/// One figure for each move: (state before, state after).
using StateTable = Eigen::Array<double, lattice_states, lattice_states>;
/// One column for each stretch between steps.
using StateColumns = Eigen::Array<double, lattice_states, Eigen::Dynamic>;

/// A path is a state before the first step and one after each step. Its log weight is
/// start(s0) + sum over k of step_k(s_k, s_k+1) + end(s_n); minus infinity where something is impossible.
/// At least one path must be possible.
struct Lattice {
    StateColumn start;
    StateColumn end;
    std::size_t steps{0};
    /// Writes all the log weights of step k.
    std::function<void(std::size_t k, StateTable& log_weights)> step;
};

/// The path of the greatest weight (Viterbi, IEEE Trans. Inf. Theory 13 (1967) 260): steps + 1 states. Of two
/// equal ones the one with the lower state where they last part.
std::vector<std::uint8_t> best_path(const Lattice& lattice);

struct Posteriors {
    StateColumns states;  ///< probability of each state in each of the steps + 1 stretches
    double log_weight{0}; ///< log of the sum over all paths
};

/// Forward-backward (Baum et al., Ann. Math. Stat. 41 (1970) 164). `moved` is called for each step, the last
/// one first, with the probability of each move.
Posteriors posteriors(const Lattice& lattice,
                      const std::function<void(std::size_t k, const StateTable& moves)>& moved);

} // namespace winkhold::taps
