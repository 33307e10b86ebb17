// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/lives.h"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// Columns of numbers that may explain how long a repair holds: n rows of names.size() values, row after row.
struct FactorTable {
    std::vector<std::string> names;
    std::vector<double> values;

    std::size_t terms() const { return names.size(); }
};

/// How comebacks at one mileage share the watched lives. Breslow 1974, Biometrics 30:89; Efron 1977, JASA
/// 72:557.
enum class TiesRule : std::uint8_t { Efron, Breslow };

struct CoxOptions {
    TiesRule ties = TiesRule::Efron;
    double level = 0.95;      ///< two-sided, of the hazard ratios
    bool stratified = false;  ///< a baseline hazard of its own for each Lives::stratum
    bool clustered = false;   ///< robust standard errors, several lives of one Lives::vehicle together
    bool proportional = true; ///< test the proportionality of the hazards as well
};

struct CoxTerm {
    std::string term;
    double coefficient = 0;
    double se = 0;                                   ///< from the model's information
    std::optional<double> robustSe;                  ///< only when clustered; z, p and limits then use it
    std::optional<double> hazardRatio, lower, upper; ///< empty where no double holds them
    double z = 0, p = 1;
};

struct CoxTest {
    double chiSquare = 0;
    int df = 0;
    double p = 1;
};

/// Score test of one term's (or of `all` terms') hazard ratio being constant in 1 - S(t-); empty where all
/// comebacks fall at one mileage.
struct ProportionalTest {
    std::string term;
    int df = 1;
    std::optional<double> chiSquare, p;
};

/// A fitted proportional-hazards regression. Matrices are p x p, row after row, in the units of the columns.
struct CoxFit {
    TiesRule ties = TiesRule::Efron;
    double lives = 0, comebacks = 0; ///< sums of weights
    std::vector<CoxTerm> terms;
    std::vector<double> covariance, robustCovariance;
    double logLikelihoodNull = 0, logLikelihood = 0;
    CoxTest likelihoodRatio, score, wald;
    std::vector<ProportionalTest> proportionalHazards; ///< one a term, then `all`

    std::vector<double> coefficients() const;
};

/// Proportional-hazards regression by Newton steps on the partial likelihood, one sorted pass a step.
///
/// Input:  valid lives and as many rows of finite factors. A life is watched over (entry, miles]; one that
/// enters at a
///         comeback's mileage is not watched there; intervals are read at `miles`. Weights are whole: rows
///         repeated.
/// Errors: InvalidInput for a fractional weight, sizes that differ, or weights of more than 10 million
/// comebacks by Efron's rule. NotEstimable, naming the term, for a column that
///         is constant, follows from the others, or separates the comebacks so that its coefficient has no
///         finite value; and for no comeback or a single cluster.
/// Cost:   O(n log n) once, O(n p^2) a step.
/// Source: Cox 1972, JRSS B 34:187; Lin & Wei 1989, JASA 84:1074 (robust); Grambsch & Therneau 1994,
/// Biometrika 81:515,
///         as a score test with the full information.
Result<CoxFit> fitCox(const Lives& lives, const FactorTable& factors, const CoxOptions& options = {});

/// Survival predicted for one life.
struct PredictedPoint {
    double miles = 0;
    double survival = 1, se = 0, lower = 1, upper = 1; ///< limits on the scale of ln S, cut at 1
};

/// Survival of a life with the factors `x` (one value a term) in a stratum (index into Lives::stratumNames),
/// at mileages. Input:  the lives, factors and options that gave the fit. Source: Tsiatis 1981, Ann Stat
/// 9:93; the ties rule's own baseline hazard.
std::vector<PredictedPoint> predictedSurvival(const Lives& lives, const FactorTable& factors,
                                              const CoxOptions& options, const CoxFit& fit,
                                              std::span<const double> x, std::uint32_t stratum,
                                              std::span<const double> miles);

/// Adjusted curve: S averaged over all lives as if each had `value` in column `term`, everything else as it
/// is. The error is the delta method's over both the baseline hazard and the coefficients, so that it equals
/// predictedSurvival's where all lives are alike; the lives themselves count as given.
/// Source: Makuch 1982, J Chron Dis 35:437 (direct adjustment); Gail & Byar 1986, Biometrical J 28:587 (its
/// error), from Tsiatis 1981, Ann Stat 9:93.
std::vector<PredictedPoint> adjustedSurvival(const Lives& lives, const FactorTable& factors,
                                             const CoxOptions& options, const CoxFit& fit, std::size_t term,
                                             double value, std::span<const double> miles);

} // namespace milehold::core
