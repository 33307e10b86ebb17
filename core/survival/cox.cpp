// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/cox.h"

#include "core/survival/cox_residuals.h"
#include "core/survival/cox_rows.h"
#include "core/survival/numeric.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include <cmath>
#include <optional>

namespace milehold::core {

namespace {

constexpr double kMostTied = 1e7; // terms of Efron's rule, a second or so a step

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int kMostSteps = 200;
// What a Newton step still promises, in units of the log likelihood.
constexpr double kConverged = 1e-20;
constexpr double kGoodEnough = 1e-12;
constexpr double kFlat = 1e-8;
// A step of this size, as a change of ln(hazard) across the range of a column, where the likelihood is flat
// already.
constexpr double kStillMoving = 0.3;
// ln(hazard ratio) between two lives beyond which there is no estimate any more; its square still fits a
// double twice.
constexpr double kWidest = 170;
// Information along some direction, beside that at 0, below which it counts as none.
constexpr double kFlattened = 1e-9;
// Share of a column's information that the earlier columns leave, below which it only follows from them.
constexpr double kFollows = 1e-10;

struct State {
    double logLikelihood = 0;
    VectorXd score;
    MatrixXd information; ///< lower triangle
    double spread = 0;    ///< largest less smallest linear predictor
};

State evaluate(const CoxRows& rows, const VectorXd& beta, TiesRule ties) {
    const auto p = static_cast<Index>(rows.p);
    const Predictor predictor = linearPredictor(rows, beta);
    State state{0, VectorXd::Zero(p), MatrixXd::Zero(p, p),
                -*std::min_element(predictor.eta.begin(), predictor.eta.end())};
    eachRiskSet(rows, predictor, true, [&](const RiskSet& set) {
        const TieSums sums = tieSums(set, ties);
        state.logLikelihood += set.sumEta - sums.logs;
        addScore(state.score, 1, set, sums);
        addInformation(state.information, 1, set, sums);
    });
    return state;
}

// Cholesky column by column, so that the first column which the earlier ones explain can be named.
Result<void> checkRank(const MatrixXd& lower, const CoxRows& rows, const std::vector<std::string>& names) {
    const Index p = lower.rows();
    MatrixXd work = lower.selfadjointView<Eigen::Lower>();
    const VectorXd diagonal = work.diagonal();
    for (Index k = 0; k < p; ++k) {
        const std::string& name = names[static_cast<std::size_t>(k)];
        if (!(diagonal[k] > 1e-13 * rows.comebacks))
            return fail(ErrorCode::NotEstimable,
                        name + " is the same for all lives watched at each comeback: it has no coefficient");
        if (!(work(k, k) > kFollows * diagonal[k]))
            return fail(ErrorCode::NotEstimable,
                        name + " follows from the other columns: it has no coefficient of its own");
        for (Index i = k + 1; i < p; ++i) {
            const double factor = work(i, k) / work(k, k);
            for (Index j = k + 1; j <= i; ++j)
                work(i, j) -= factor * work(j, k);
        }
    }
    return {};
}

std::string named(const VectorXd& moves, const std::vector<std::string>& names) {
    std::string list;
    for (Index k = 0; k < moves.size(); ++k) {
        if (moves[k] < 0.1 * moves.maxCoeff())
            continue;
        if (!list.empty())
            list += ", ";
        list += names[static_cast<std::size_t>(k)];
    }
    return list;
}

// The direction in which the likelihood has become flat beside what it was at 0, outwards; empty while there
// is none.
VectorXd flatDirection(const State& at, const State& null, const VectorXd& beta) {
    const Eigen::GeneralizedSelfAdjointEigenSolver<MatrixXd> solver(
        at.information.selfadjointView<Eigen::Lower>(), null.information.selfadjointView<Eigen::Lower>());
    if (solver.info() != Eigen::Success || solver.eigenvalues()[0] > kFlattened)
        return {};
    const VectorXd direction = solver.eigenvectors().col(0);
    // A step too far would be called back by a score of a size that rounding cannot make.
    const double pull = direction.dot(at.score);
    return std::abs(pull) > 1e-6 && pull * direction.dot(beta) < 0 ? VectorXd() : direction;
}

tl::unexpected<Error> separated(const VectorXd& moves, const std::vector<std::string>& names) {
    return fail(ErrorCode::NotEstimable, named(moves, names) +
                                             " separates the lives that come back from those that hold: "
                                             "the coefficient has no finite value");
}

struct Maximum {
    VectorXd beta; ///< of the standardised columns
    State null, top;
};

Result<Maximum> maximise(const CoxRows& rows, const std::vector<std::string>& names, TiesRule ties) {
    Maximum found;
    found.beta = VectorXd::Zero(static_cast<Index>(rows.p));
    found.null = evaluate(rows, found.beta, ties);
    if (const auto rank = checkRank(found.null.information, rows, names); !rank)
        return failureOf(rank);
    const Eigen::Map<const VectorXd> range(rows.range.data(), static_cast<Index>(rows.p));
    State at = found.null;
    double promised = HUGE_VAL;
    for (int k = 0; k < kMostSteps; ++k) {
        // A step too far would be called back by comebacks that the predictor puts far from the front.
        if (at.spread > kWidest && at.score.dot(found.beta) > -1)
            return separated(found.beta.cwiseAbs().cwiseProduct(range), names);
        if (const VectorXd flat = flatDirection(at, found.null, found.beta); flat.size() > 0)
            return separated(flat.cwiseAbs().cwiseProduct(range), names);
        const Eigen::LDLT<MatrixXd, Eigen::Lower> solver(at.information);
        VectorXd step = solver.solve(at.score);
        const double promise = at.score.dot(step);
        if (!step.allFinite() || !(promise >= 0))
            return fail(ErrorCode::NoConvergence,
                        "the regression did not settle: the columns nearly follow from each other");
        const VectorXd moves = step.cwiseAbs().cwiseProduct(range);
        if (promise < kFlat && moves.maxCoeff() > kStillMoving)
            return separated(moves, names);
        // Below that only rounding is left, which no longer shrinks.
        const bool stuck = promise < kGoodEnough && promise > 0.25 * promised;
        promised = promise;
        if (promise < kConverged || stuck) {
            found.top = std::move(at);
            return found;
        }
        State next;
        bool climbed = false;
        for (int half = 0; half < 40 && !climbed; ++half) {
            next = evaluate(rows, found.beta + step, ties);
            climbed = std::isfinite(next.logLikelihood) && next.spread < 2 * kWidest &&
                      next.logLikelihood >= at.logLikelihood - 1e-11 * (1 + std::abs(at.logLikelihood));
            if (!climbed)
                step *= 0.5;
        }
        if (!climbed)
            break;
        found.beta += step;
        at = std::move(next);
    }
    return fail(ErrorCode::NoConvergence, "the regression did not settle");
}

std::vector<double> flat(const MatrixXd& matrix) {
    std::vector<double> values;
    for (Index i = 0; i < matrix.rows(); ++i)
        for (Index j = 0; j < matrix.cols(); ++j)
            values.push_back(matrix(i, j));
    return values;
}

std::optional<double> finite(double value) {
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

CoxTest tested(double chiSquare, std::size_t terms) {
    const double value = std::max(0.0, chiSquare);
    return {value, static_cast<int>(terms), chiSquareTail(value, static_cast<double>(terms))};
}

} // namespace

std::vector<double> CoxFit::coefficients() const {
    std::vector<double> values;
    for (const CoxTerm& term : terms)
        values.push_back(term.coefficient);
    return values;
}

Result<CoxFit> fitCox(const Lives& lives, const FactorTable& factors, const CoxOptions& options) {
    const Result<CoxRows> arranged = coxRows(lives, factors, options.stratified);
    if (!arranged)
        return failureOf(arranged);
    const CoxRows& rows = *arranged;
    if (options.ties == TiesRule::Efron && rows.comebacks - static_cast<double>(rows.n) > kMostTied)
        return fail(ErrorCode::InvalidInput,
                    "column weight: the comebacks add up to more than 10,000,000 above the rows, and Efron's "
                    "rule takes each by itself; expected smaller weights, or Breslow's rule");
    const Result<Maximum> maximum = maximise(rows, factors.names, options.ties);
    if (!maximum)
        return failureOf(maximum);

    const auto p = static_cast<Index>(rows.p);
    const MatrixXd information = maximum->top.information.selfadjointView<Eigen::Lower>();
    const MatrixXd standardised = information.ldlt().solve(MatrixXd::Identity(p, p));
    const VectorXd unit = Eigen::Map<const VectorXd>(rows.spread.data(), p).cwiseInverse();
    const MatrixXd covariance = unit.asDiagonal() * standardised * unit.asDiagonal();
    MatrixXd robust;
    if (options.clustered) {
        const Result<MatrixXd> spread =
            clusteredCovariance(lives, rows, maximum->beta, standardised, options.ties);
        if (!spread)
            return failureOf(spread);
        robust = unit.asDiagonal() * *spread * unit.asDiagonal();
    }

    CoxFit fit;
    fit.ties = options.ties;
    fit.lives = rows.lives;
    fit.comebacks = rows.comebacks;
    fit.covariance = flat(covariance);
    if (options.clustered)
        fit.robustCovariance = flat(robust);
    const double deviate = twoSidedDeviate(options.level);
    for (Index k = 0; k < p; ++k) {
        CoxTerm term;
        term.term = factors.names[static_cast<std::size_t>(k)];
        term.coefficient = maximum->beta[k] * unit[k];
        term.se = std::sqrt(covariance(k, k));
        if (options.clustered)
            term.robustSe = std::sqrt(robust(k, k));
        const double se = term.robustSe.value_or(term.se);
        if (!(se > 0) || !std::isfinite(term.se))
            return fail(ErrorCode::NotEstimable,
                        term.term + " has no standard error: its units leave what a number holds");
        term.z = term.coefficient / se;
        term.p = twoSidedP(term.z);
        term.hazardRatio = finite(std::exp(term.coefficient));
        term.lower = finite(std::exp(term.coefficient - deviate * se));
        term.upper = finite(std::exp(term.coefficient + deviate * se));
        fit.terms.push_back(std::move(term));
    }
    const MatrixXd nullInformation = maximum->null.information.selfadjointView<Eigen::Lower>();
    fit.logLikelihoodNull = maximum->null.logLikelihood;
    fit.logLikelihood = maximum->top.logLikelihood;
    fit.likelihoodRatio = tested(2 * (fit.logLikelihood - fit.logLikelihoodNull), rows.p);
    fit.score = tested(maximum->null.score.dot(nullInformation.ldlt().solve(maximum->null.score)), rows.p);
    fit.wald = tested(maximum->beta.dot(information * maximum->beta), rows.p);
    if (options.proportional)
        fit.proportionalHazards = proportionalTests(lives, rows, maximum->beta, options.ties, factors.names);
    return fit;
}

} // namespace milehold::core
