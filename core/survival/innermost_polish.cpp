// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/innermost.h"

#include <Eigen/Sparse>

#include <algorithm>
#include <cmath>
#include <limits>

namespace milehold::core {

namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Vector = Eigen::VectorXd;
using Index = Eigen::Index;

// A direct factorisation is fastest until intervals tie far mileages of a large support together.
constexpr std::size_t kSmallSupport = 1500;
// A gradient above this share of the weight, at an interval without mass, asks for mass there.
constexpr double kEnters = 1e-11;

/// Masses on the support alone, as a sum from its first interval to each. The condition that they sum to 1 is
/// replaced by the term -weight * sum, which has the same maximum and leaves a plain Newton system, the
/// Laplacian of a graph.
struct SupportProblem {
    std::vector<std::size_t> support; ///< indices of intervals, ascending
    std::vector<Cell> cells;          ///< nodes [first, last] of the cumulated masses, node 0 is 0
    double weight = 0;

    double mass(const Cell& cell, const Vector& sums) const {
        const double low = cell.first == 0 ? 0.0 : sums[static_cast<Index>(cell.first - 1)];
        return sums[static_cast<Index>(cell.last - 1)] - low;
    }
    double value(const Vector& sums) const {
        double total = -weight * sums[sums.size() - 1];
        for (const Cell& cell : cells)
            total += cell.weight * std::log(mass(cell, sums));
        return std::isnan(total) ? -HUGE_VAL : total;
    }
};

SupportProblem restricted(const InnermostProblem& problem, const std::vector<double>& masses,
                          const std::vector<char>& inside) {
    SupportProblem out;
    out.weight = problem.weight;
    std::vector<std::size_t> rank(masses.size() + 1, 0);
    for (std::size_t j = 0; j < masses.size(); ++j) {
        rank[j + 1] = rank[j] + (inside[j] != 0 ? 1 : 0);
        if (inside[j] != 0)
            out.support.push_back(j);
    }
    for (const Cell& cell : problem.cells)
        out.cells.push_back({rank[cell.first], rank[cell.last + 1], cell.weight});
    mergeCells(out.cells);
    return out;
}

Vector newtonStep(const SupportProblem& problem, const Vector& sums, Vector& slope) {
    const Index k = sums.size();
    slope = Vector::Zero(k);
    slope[k - 1] = -problem.weight;
    Vector diagonal = Vector::Zero(k);
    std::vector<Eigen::Triplet<double>> entries;
    std::size_t far = 0;
    for (const Cell& cell : problem.cells) {
        const double mass = problem.mass(cell, sums);
        const double first = cell.weight / mass;
        const double second = first / mass;
        const Index b = static_cast<Index>(cell.last) - 1;
        const Index a = static_cast<Index>(cell.first) - 1;
        slope[b] += first;
        diagonal[b] += second;
        if (a < 0)
            continue;
        slope[a] -= first;
        diagonal[a] += second;
        entries.emplace_back(b, a, -second);
        if (b > a + 1 && b < k - 1)
            ++far;
    }
    // Where masses are not unique the matrix is singular along directions that leave every row's probability
    // alone.
    for (Index j = 0; j < k; ++j)
        entries.emplace_back(j, j, diagonal[j] * (1 + 1e-13));
    Matrix lower(k, k);
    lower.setFromTriplets(entries.begin(), entries.end());
    if (problem.support.size() <= kSmallSupport || far <= 2 * problem.support.size()) {
        Eigen::SimplicialLDLT<Matrix, Eigen::Lower> solver(lower);
        if (solver.info() == Eigen::Success)
            return solver.solve(slope);
    }
    Eigen::ConjugateGradient<Matrix, Eigen::Lower, Eigen::IncompleteCholesky<double, Eigen::Lower>> solver;
    solver.setTolerance(1e-12);
    solver.setMaxIterations(2000);
    solver.compute(lower);
    return solver.solve(slope);
}

Vector cumulate(const Vector& masses) {
    Vector sums = masses;
    for (Index j = 1; j < sums.size(); ++j)
        sums[j] += sums[j - 1];
    return sums;
}

// Newton steps on one support. Returns false when a step was cut because a mass reached 0 (it then is 0).
bool settle(const SupportProblem& problem, Vector& masses) {
    const Index k = masses.size();
    for (int step = 0; step < 60; ++step) {
        const Vector sums = cumulate(masses);
        Vector slope;
        const Vector direction = newtonStep(problem, sums, slope);
        if (!direction.allFinite())
            return true;
        const double rise = slope.dot(direction);
        Vector change = direction;
        for (Index j = k - 1; j > 0; --j)
            change[j] -= direction[j - 1];
        double reach = std::numeric_limits<double>::infinity();
        Index stopper = -1;
        for (Index j = 0; j < k; ++j) {
            if (change[j] >= 0 || masses[j] + change[j] > 0)
                continue;
            const double until = masses[j] / -change[j];
            if (until < reach)
                reach = until, stopper = j;
        }
        const double before = problem.value(sums);
        if (stopper >= 0) {
            // Put all masses that the step would make negative to 0 at once, if that is better than where we
            // are.
            const Vector projected = (masses + change).cwiseMax(0.0);
            if (problem.value(cumulate(projected)) > before) {
                masses = projected;
                return false;
            }
        }
        double share = std::min(1.0, reach);
        if (rise > 1e-9 * problem.weight) {
            for (int half = 0; half < 40; ++half) {
                if (problem.value(sums + share * direction) > before)
                    break;
                share *= 0.5;
                stopper = -1;
            }
        }
        masses += share * change;
        if (stopper >= 0) {
            masses = masses.cwiseMax(0.0);
            masses[stopper] = 0;
            return false;
        }
        masses = masses.cwiseMax(0.0);
        if (change.cwiseAbs().cwiseQuotient((masses.array() + 1e-9).matrix()).maxCoeff() * share < 1e-11)
            return true;
    }
    return true;
}

// Intervals with mass, less those that EM is still shrinking towards 0. A row keeps all of its intervals when
// nothing else would be left to it.
std::vector<char> firstSupport(const InnermostProblem& problem, std::vector<double>& masses) {
    const std::size_t m = masses.size();
    std::vector<double> sums(m + 1, 0.0);
    for (std::size_t j = 0; j < m; ++j)
        sums[j + 1] = sums[j] + masses[j];
    const std::vector<double> slope = gradient(problem, sums);
    double least = problem.weight;
    for (const Cell& cell : problem.cells)
        least = std::min(least, cell.weight);
    const double small = 1e-3 * least / problem.weight / static_cast<double>(m);
    std::vector<char> inside(m);
    std::vector<std::size_t> rank(m + 1, 0);
    for (std::size_t j = 0; j < m; ++j) {
        const bool fading = masses[j] < small && slope[j] < problem.weight * (1 - 1e-5);
        inside[j] = masses[j] > 0 && !fading ? 1 : 0;
        rank[j + 1] = rank[j] + (inside[j] != 0 ? 1 : 0);
    }
    for (const Cell& cell : problem.cells) {
        if (rank[cell.last + 1] > rank[cell.first])
            continue;
        for (std::size_t j = cell.first; j <= cell.last; ++j)
            inside[j] = masses[j] > 0 ? 1 : 0;
    }
    for (std::size_t j = 0; j < m; ++j)
        if (inside[j] == 0)
            masses[j] = 0;
    return inside;
}

} // namespace

void polishMasses(const InnermostProblem& problem, std::vector<double>& masses) {
    const std::size_t m = masses.size();
    std::vector<double> best = masses;
    std::vector<char> inside = firstSupport(problem, masses);
    const auto cumulated = [m](const std::vector<double>& p) {
        std::vector<double> sums(m + 1, 0.0);
        for (std::size_t j = 0; j < m; ++j)
            sums[j + 1] = sums[j] + p[j];
        return sums;
    };
    double bestValue = logLikelihood(problem, cumulated(best));
    for (std::size_t round = 0; round < 4 * m + 100; ++round) {
        const SupportProblem part = restricted(problem, masses, inside);
        Vector p(static_cast<Index>(part.support.size()));
        for (std::size_t r = 0; r < part.support.size(); ++r)
            p[static_cast<Index>(r)] = masses[part.support[r]];
        const bool settled = settle(part, p);
        std::fill(masses.begin(), masses.end(), 0.0);
        for (std::size_t r = 0; r < part.support.size(); ++r) {
            masses[part.support[r]] = p[static_cast<Index>(r)];
            if (p[static_cast<Index>(r)] <= 0)
                inside[part.support[r]] = 0;
        }
        if (!settled)
            continue;
        const std::vector<double> sums = cumulated(masses);
        const double total = sums.back();
        std::vector<double> scaled = sums;
        for (double& sum : scaled)
            sum /= total;
        if (const double value = logLikelihood(problem, scaled);
            value >= bestValue - 1e-12 * std::abs(bestValue)) {
            bestValue = std::max(value, bestValue);
            best = masses;
            for (double& mass : best)
                mass /= total;
        }
        // The steepest interval of each stretch without mass may enter.
        const std::vector<double> slope = gradient(problem, scaled);
        bool entered = false;
        std::size_t steepest = m;
        for (std::size_t j = 0; j <= m; ++j) {
            if (j < m && inside[j] == 0) {
                if (steepest == m || slope[j] > slope[steepest])
                    steepest = j;
                continue;
            }
            if (steepest < m && slope[steepest] > problem.weight * (1 + kEnters)) {
                inside[steepest] = 1;
                entered = true;
            }
            steepest = m;
        }
        if (!entered)
            break;
    }
    masses = best;
}

} // namespace milehold::core
