// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/cox.h"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <vector>

namespace milehold::core {

/// Lives arranged for passes over the watched sets: strata one after the other, in each the mileages from the
/// largest down. Columns are centred and divided by their spread, so that the iteration does not depend on
/// their units.
struct CoxRows {
    std::size_t n = 0, p = 0;
    std::vector<double> x; ///< n rows of p values
    std::vector<double> miles, entry, weight;
    std::vector<char> cameBack;
    std::vector<std::uint32_t> source;  ///< row of the table
    std::vector<std::size_t> begins;    ///< first row of each stratum, and n
    std::vector<std::uint32_t> stratum; ///< of each part: index into Lives::stratumNames
    std::vector<std::uint32_t> byEntry; ///< rows that entered late, by stratum, entry from the largest down
    std::vector<std::size_t> entryBegins;
    std::vector<double> center, spread, range; ///< of each column; range in spreads
    double lives = 0, comebacks = 0;

    std::size_t parts() const { return stratum.size(); }
};

/// Errors: InvalidInput, NotEstimable as fitCox().
Result<CoxRows> coxRows(const Lives& lives, const FactorTable& factors, bool stratified);

/// The lives watched at one mileage where some come back, with r = exp(linear predictor - shift).
struct RiskSet {
    double miles = 0;
    std::size_t part = 0;
    double comebacks = 0;         ///< D, sum of weights
    double s0 = 0, d0 = 0;        ///< sums of w r: over the watched, over the comebacks
    Eigen::VectorXd s1, d1, sumX; ///< sums of w r x, and of w x over the comebacks
    Eigen::MatrixXd s2, d2;       ///< sums of w r x x', lower triangles
    double sumEta = 0;            ///< of w (linear predictor - shift) over the comebacks
};

/// Sums over the D terms of the ties rule: c = s0 - f d0, f = 0, 1/D, ... (Breslow: all f = 0).
struct TieSums {
    double logs = 0;               ///< ln c
    double a0 = 0, a1 = 0;         ///< 1/c, f/c
    double b0 = 0, b1 = 0, b2 = 0; ///< 1/c^2, f/c^2, f^2/c^2
};

TieSums tieSums(const RiskSet& set, TiesRule ties);

/// Adds factor * (sum of x over the comebacks - sum over the D terms of the mean of x among the watched) to
/// `into`.
void addScore(Eigen::VectorXd& into, double factor, const RiskSet& set, const TieSums& sums);

/// Adds factor * the information of one mileage to `into` (lower triangle).
void addInformation(Eigen::MatrixXd& into, double factor, const RiskSet& set, const TieSums& sums);

/// Linear predictors less their maximum, and that maximum.
struct Predictor {
    std::vector<double> eta;
    double shift = 0;
};
Predictor linearPredictor(const CoxRows& rows, const Eigen::VectorXd& beta);

/// Calls visit(const RiskSet&) for every mileage with a comeback, by stratum, from the largest down. The
/// second-order sums are kept only when asked for.   Cost: O(n p^2), or O(n p).
template <class Visit>
void eachRiskSet(const CoxRows& rows, const Predictor& predictor, bool second, Visit visit) {
    const auto p = static_cast<Eigen::Index>(rows.p);
    RiskSet set;
    const auto addRow = [&](std::size_t i, double factor, double& sum0, Eigen::VectorXd& sum1,
                            Eigen::MatrixXd& sum2) {
        const double r = factor * rows.weight[i] * std::exp(predictor.eta[i]);
        const double* x = rows.x.data() + i * rows.p;
        sum0 += r;
        double* one = sum1.data();
        double* two = sum2.data();
        for (Eigen::Index a = 0; a < p; ++a) {
            const double rx = r * x[a];
            one[a] += rx;
            if (!second)
                continue;
            for (Eigen::Index b = a; b < p; ++b)
                two[a * p + b] += rx * x[b];
        }
    };
    for (std::size_t part = 0; part < rows.parts(); ++part) {
        set.part = part;
        set.s0 = 0;
        set.s1 = Eigen::VectorXd::Zero(p);
        set.s2 = Eigen::MatrixXd::Zero(p, p);
        std::size_t entered = rows.entryBegins[part];
        std::size_t watchedRows = 0;
        for (std::size_t i = rows.begins[part]; i < rows.begins[part + 1];) {
            set.miles = rows.miles[i];
            set.comebacks = set.d0 = set.sumEta = 0;
            bool comeback = false;
            std::size_t end = i;
            for (; end < rows.begins[part + 1] && rows.miles[end] == set.miles; ++end) {
                addRow(end, 1, set.s0, set.s1, set.s2);
                ++watchedRows;
                comeback = comeback || rows.cameBack[end] != 0;
            }
            for (; entered < rows.entryBegins[part + 1] && rows.entry[rows.byEntry[entered]] >= set.miles;
                 ++entered) {
                addRow(rows.byEntry[entered], -1, set.s0, set.s1, set.s2);
                if (--watchedRows > 0)
                    continue;
                // Nobody is left: drop the rounding that subtraction left behind.
                set.s0 = 0;
                set.s1.setZero();
                set.s2.setZero();
            }
            if (comeback) {
                set.d1 = Eigen::VectorXd::Zero(p);
                set.d2 = Eigen::MatrixXd::Zero(p, p);
                set.sumX = Eigen::VectorXd::Zero(p);
                for (std::size_t k = i; k < end; ++k) {
                    if (rows.cameBack[k] == 0)
                        continue;
                    set.comebacks += rows.weight[k];
                    set.sumEta += rows.weight[k] * predictor.eta[k];
                    for (Eigen::Index a = 0; a < p; ++a)
                        set.sumX[a] += rows.weight[k] * rows.x[k * rows.p + static_cast<std::size_t>(a)];
                    addRow(k, 1, set.d0, set.d1, set.d2);
                }
                visit(static_cast<const RiskSet&>(set));
            }
            i = end;
        }
    }
}

} // namespace milehold::core
