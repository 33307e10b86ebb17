// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/cox_rows.h"
#include "core/survival/numeric.h"

#include <Eigen/Core>

namespace milehold::core {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// One step of the baseline hazard, for a life whose standardised linear predictor equals the shift.
struct Step {
    double miles = 0;
    double hazard = 0;   ///< sum of 1/c
    double variance = 0; ///< sum of 1/c^2
    VectorXd moment;     ///< sum of (mean of x) / c
};

struct Baseline {
    CoxRows rows;
    VectorXd beta; ///< of the standardised columns
    Predictor predictor;
    std::vector<std::vector<Step>> steps; ///< of each part, ascending
};

std::optional<Baseline> baseline(const Lives& lives, const FactorTable& factors, const CoxOptions& options,
                                 const CoxFit& fit) {
    Result<CoxRows> rows = coxRows(lives, factors, options.stratified);
    if (!rows)
        return std::nullopt;
    Baseline out{std::move(*rows), VectorXd(static_cast<Index>(factors.terms())), {}, {}};
    for (std::size_t k = 0; k < factors.terms(); ++k)
        out.beta[static_cast<Index>(k)] = fit.terms[k].coefficient * out.rows.spread[k];
    out.predictor = linearPredictor(out.rows, out.beta);
    out.steps.resize(out.rows.parts());
    eachRiskSet(out.rows, out.predictor, false, [&](const RiskSet& set) {
        const TieSums sums = tieSums(set, options.ties);
        out.steps[set.part].push_back({set.miles, sums.a0, sums.b0, sums.b0 * set.s1 - sums.b1 * set.d1});
    });
    for (auto& part : out.steps)
        std::reverse(part.begin(), part.end());
    return out;
}

/// The covariance of the coefficients of the standardised columns.
MatrixXd standardised(const CoxFit& fit, const CoxRows& rows) {
    const auto p = static_cast<Index>(rows.p);
    MatrixXd covariance(p, p);
    for (Index a = 0; a < p; ++a)
        for (Index b = 0; b < p; ++b)
            covariance(a, b) = fit.covariance[static_cast<std::size_t>(a * p + b)] *
                               rows.spread[static_cast<std::size_t>(a)] *
                               rows.spread[static_cast<std::size_t>(b)];
    return covariance;
}

/// The baseline's sums by a mileage.
struct Reached {
    double hazard = 0, variance = 0;
    VectorXd moment;
};

Reached reachedBy(const std::vector<Step>& steps, double miles, Index p) {
    Reached reached{0, 0, VectorXd::Zero(p)};
    for (const Step& step : steps) {
        if (step.miles > miles)
            break;
        reached.hazard += step.hazard;
        reached.variance += step.variance;
        reached.moment += step.moment;
    }
    return reached;
}

/// Limits on the scale of ln S; where S is 0 there is nothing above or below it.
PredictedPoint pointOf(double miles, double survival, double se, double deviate) {
    if (!(survival > 0))
        return {miles, 0, 0, 0, 0};
    const double reach = deviate * se / survival;
    return {miles, survival, se, survival * std::exp(-reach),
            std::min(1.0, std::exp(std::log(survival) + reach))};
}

} // namespace

std::vector<PredictedPoint> predictedSurvival(const Lives& lives, const FactorTable& factors,
                                              const CoxOptions& options, const CoxFit& fit,
                                              std::span<const double> x, std::uint32_t stratum,
                                              std::span<const double> miles) {
    const auto base = baseline(lives, factors, options, fit);
    if (!base)
        return {};
    const CoxRows& rows = base->rows;
    const auto p = static_cast<Index>(rows.p);
    std::size_t part = 0;
    while (part < rows.parts() && rows.stratum[part] != (options.stratified ? stratum : 0U))
        ++part;
    if (part == rows.parts())
        return {};
    VectorXd z(p);
    for (std::size_t k = 0; k < rows.p; ++k)
        z[static_cast<Index>(k)] = (x[k] - rows.center[k]) / rows.spread[k];
    const MatrixXd covariance = standardised(fit, rows);
    const double r = std::exp(z.dot(base->beta) - base->predictor.shift);
    const double deviate = twoSidedDeviate(options.level);
    std::vector<PredictedPoint> points;
    for (const double at : miles) {
        const Reached reached = reachedBy(base->steps[part], at, p);
        const VectorXd q = reached.hazard * z - reached.moment;
        const double survival = std::exp(-r * reached.hazard);
        const double se = survival * r * std::sqrt(reached.variance + q.dot(covariance * q));
        points.push_back(pointOf(at, survival, se, deviate));
    }
    return points;
}

std::vector<PredictedPoint> adjustedSurvival(const Lives& lives, const FactorTable& factors,
                                             const CoxOptions& options, const CoxFit& fit, std::size_t term,
                                             double value, std::span<const double> miles) {
    const auto base = baseline(lives, factors, options, fit);
    if (!base)
        return {};
    const CoxRows& rows = base->rows;
    const auto p = static_cast<Index>(rows.p);
    const auto column = static_cast<Index>(term);
    const MatrixXd covariance = standardised(fit, rows);
    const double z = (value - rows.center[term]) / rows.spread[term];
    const double deviate = twoSidedDeviate(options.level);
    std::vector<PredictedPoint> curve;
    for (const double at : miles) {
        double sum = 0, variance = 0;
        VectorXd q = VectorXd::Zero(p); // of the average to the coefficients
        for (std::size_t part = 0; part < rows.parts(); ++part) {
            const Reached reached = reachedBy(base->steps[part], at, p);
            double pull = 0; // of the average to the baseline hazard
            VectorXd x(p);
            for (std::size_t i = rows.begins[part]; i < rows.begins[part + 1]; ++i) {
                const double eta =
                    base->predictor.eta[i] + base->beta[column] * (z - rows.x[i * rows.p + term]);
                const double r = std::exp(eta);
                const double survival = std::exp(-r * reached.hazard);
                sum += rows.weight[i] * survival;
                for (Index k = 0; k < p; ++k)
                    x[k] = k == column ? z : rows.x[i * rows.p + static_cast<std::size_t>(k)];
                pull += rows.weight[i] * survival * r;
                q += rows.weight[i] * survival * r * (reached.hazard * x - reached.moment);
            }
            variance += pull * pull * reached.variance;
        }
        const double se = std::sqrt(variance + q.dot(covariance * q)) / rows.lives;
        curve.push_back(pointOf(at, sum / rows.lives, se, deviate));
    }
    return curve;
}

} // namespace milehold::core
