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
constexpr std::size_t kFewFar = 200;
constexpr int kMostGradients = 500;
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

/// The Newton system on one support: minus second derivatives (lower triangle) and slope.
struct NewtonSystem {
    Vector slope, diagonal;
    std::vector<Eigen::Triplet<double>> near,
        far; ///< off the diagonal; far: neither to the next node nor to the last

    Vector times(const Vector& x) const {
        Vector y = diagonal.cwiseProduct(x);
        for (const auto* part : {&near, &far}) {
            for (const auto& entry : *part) {
                y[entry.row()] += entry.value() * x[entry.col()];
                y[entry.col()] += entry.value() * x[entry.row()];
            }
        }
        return y;
    }
};

NewtonSystem systemAt(const SupportProblem& problem, const Vector& sums) {
    const Index k = sums.size();
    NewtonSystem system{Vector::Zero(k), Vector::Zero(k), {}, {}};
    system.slope[k - 1] = -problem.weight;
    for (const Cell& cell : problem.cells) {
        const double mass = problem.mass(cell, sums);
        const double first = cell.weight / mass;
        const double second = first / mass;
        const Index b = static_cast<Index>(cell.last) - 1;
        const Index a = static_cast<Index>(cell.first) - 1;
        system.slope[b] += first;
        system.diagonal[b] += second;
        if (a < 0)
            continue;
        system.slope[a] -= first;
        system.diagonal[a] += second;
        (b > a + 1 && b < k - 1 ? system.far : system.near).emplace_back(b, a, -second);
    }
    // Where masses are not unique the matrix is singular along directions that leave every row's probability
    // alone.
    system.diagonal *= 1 + 1e-13;
    return system;
}

using Factor = Eigen::SimplicialLDLT<Matrix, Eigen::Lower>;

void factorise(Factor& factor, const NewtonSystem& system, bool withFar) {
    std::vector<Eigen::Triplet<double>> entries = system.near;
    if (withFar)
        entries.insert(entries.end(), system.far.begin(), system.far.end());
    for (Index j = 0; j < system.diagonal.size(); ++j)
        entries.emplace_back(j, j, system.diagonal[j]);
    Matrix lower(system.diagonal.size(), system.diagonal.size());
    lower.setFromTriplets(entries.begin(), entries.end());
    factor.compute(lower);
}

// Conjugate gradients, preconditioned by the near entries alone: exact comebacks make those outweigh the
// rest.
Vector conjugateGradients(const NewtonSystem& system, const Factor& near) {
    Vector x = Vector::Zero(system.slope.size());
    Vector rest = system.slope;
    Vector z = near.solve(rest);
    Vector direction = z;
    double energy = rest.dot(z);
    const double enough = 1e-18 * energy;
    for (int k = 0; k < kMostGradients && energy > enough; ++k) {
        const Vector product = system.times(direction);
        const double length = energy / direction.dot(product);
        x += length * direction;
        rest -= length * product;
        z = near.solve(rest);
        const double next = rest.dot(z);
        direction = z + next / energy * direction;
        energy = next;
    }
    return x;
}

Vector newtonStep(const SupportProblem& problem, const Vector& sums, Vector& slope) {
    const NewtonSystem system = systemAt(problem, sums);
    slope = system.slope;
    Factor factor;
    const bool direct = problem.support.size() <= kSmallSupport || system.far.size() <= kFewFar;
    factorise(factor, system, direct);
    if (factor.info() != Eigen::Success)
        return Vector::Constant(slope.size(), std::numeric_limits<double>::quiet_NaN());
    return direct ? Vector(factor.solve(slope)) : conjugateGradients(system, factor);
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
        const auto isEmpty = [](const Cell& cell) { return cell.first == cell.last; };
        if (std::any_of(part.cells.begin(), part.cells.end(), isEmpty))
            break; // a row's mass has vanished beside the others
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
