// The lattice against every path there is, one by one.
#include "winkhold/taps/hindsight/detail/lattice.hpp"

#include "winkhold/measure/waveform/random.hpp"

#include <cmath>
#include <gtest/gtest.h>
#include <limits>

namespace {

using namespace winkhold;
using host::lattice_states;
using host::StateColumn;
using host::StateTable;

constexpr double impossible = -std::numeric_limits<double>::infinity();

/// Random weights; a part of the moves is impossible, staying never is.
struct RandomLattice {
    std::vector<StateTable> tables;
    host::Lattice lattice;

    RandomLattice(std::size_t steps, double blocked, std::uint64_t trial) {
        host::RandomStream random(11, trial);
        const auto weight = [&] { return random.unit() < blocked ? impossible : -30 * random.unit(); };
        lattice.steps = steps;
        lattice.start = StateColumn::NullaryExpr([&](Eigen::Index) { return weight(); });
        lattice.end = StateColumn::NullaryExpr([&](Eigen::Index) { return weight(); });
        lattice.start(3) = lattice.end(3) = -20; // one path is possible
        for (std::size_t k = 0; k < steps; ++k) {
            tables.push_back(StateTable::NullaryExpr([&](Eigen::Index, Eigen::Index) { return weight(); }));
            tables.back()(3, 3) = -20;
        }
        lattice.step = [this](std::size_t k, StateTable& table) { table = tables[k]; };
    }
    RandomLattice(const RandomLattice&) = delete;

    double log_weight(const std::vector<std::uint8_t>& path) const {
        double sum = lattice.start(path.front()) + lattice.end(path.back());
        for (std::size_t k = 0; k < lattice.steps; ++k)
            sum += tables[k](path[k], path[k + 1]);
        return sum;
    }

    template <class Visit>
    void every_path(Visit&& visit) const {
        std::vector<std::uint8_t> path(lattice.steps + 1, 0);
        while (true) {
            visit(path, log_weight(path));
            std::size_t k = 0;
            while (k < path.size() && ++path[k] == lattice_states)
                path[k++] = 0;
            if (k == path.size()) return;
        }
    }
};

class EveryPath : public ::testing::TestWithParam<int> {};

TEST_P(EveryPath, TheBestOneIsTheHeaviest) {
    for (std::uint64_t trial = 0; trial < 12; ++trial) {
        const RandomLattice random(static_cast<std::size_t>(GetParam()), trial % 3 * 0.3, trial);
        double heaviest = impossible;
        random.every_path([&](const auto&, double weight) { heaviest = std::max(heaviest, weight); });
        const std::vector<std::uint8_t> best = host::best_path(random.lattice);
        ASSERT_EQ(best.size(), random.lattice.steps + 1);
        EXPECT_DOUBLE_EQ(random.log_weight(best), heaviest) << "trial " << trial;
    }
}

TEST_P(EveryPath, PosteriorsAreTheShareOfTheirPaths) {
    for (std::uint64_t trial = 0; trial < 12; ++trial) {
        const RandomLattice random(static_cast<std::size_t>(GetParam()), trial % 3 * 0.3, trial);
        const auto steps = static_cast<Eigen::Index>(random.lattice.steps);
        double total = 0;
        host::StateColumns states = host::StateColumns::Zero(lattice_states, steps + 1);
        std::vector<StateTable> moves(random.lattice.steps, StateTable::Zero());
        random.every_path([&](const auto& path, double log_weight) {
            const double weight = std::exp(log_weight);
            total += weight;
            for (std::size_t k = 0; k < path.size(); ++k)
                states(path[k], static_cast<Eigen::Index>(k)) += weight;
            for (std::size_t k = 0; k + 1 < path.size(); ++k)
                moves[k](path[k], path[k + 1]) += weight;
        });
        std::size_t next = random.lattice.steps;
        const host::Posteriors found =
            host::posteriors(random.lattice, [&](std::size_t k, const StateTable& table) {
                ASSERT_EQ(k, --next) << "last step first";
                EXPECT_LT((table - moves[k] / total).abs().maxCoeff(), 1e-12) << "trial " << trial;
            });
        EXPECT_EQ(next, 0u) << "each step once";
        EXPECT_LT((found.states - states / total).abs().maxCoeff(), 1e-12) << "trial " << trial;
        EXPECT_NEAR(found.log_weight, std::log(total), 1e-10);
    }
}

INSTANTIATE_TEST_SUITE_P(Steps, EveryPath, ::testing::Values(0, 1, 2, 3, 4));

TEST(Lattice, LongChainsNeitherUnderflowNorDrift) {
    // all moves alike: every state stays at one eighth, each step multiplies the sum by 8 exp(-500)
    constexpr std::size_t steps = 100'000;
    const host::Lattice flat{.start = StateColumn::Zero(),
                             .end = StateColumn::Zero(),
                             .steps = steps,
                             .step = [](std::size_t, StateTable& table) { table.setConstant(-500); }};
    const host::Posteriors found = host::posteriors(flat, [](std::size_t, const StateTable&) {});
    EXPECT_LT((found.states - 1.0 / lattice_states).abs().maxCoeff(), 1e-12);
    EXPECT_NEAR(found.log_weight / (steps * (std::log(8.0) - 500) + std::log(8.0)), 1, 1e-10);
}

} // namespace
