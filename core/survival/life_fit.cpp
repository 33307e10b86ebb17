// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/life_fit.h"

#include "core/survival/life_profile.h"
#include "core/survival/numeric.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace milehold::core {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr int kMostSteps = 500;
// Squared length of a Newton step in standard errors, for each comeback (so that weights do not matter),
// below which nothing more changes.
constexpr double kConverged = 1e-22;
constexpr double kGoodEnough = 1e-16;
// The same: so near to the top that the likelihood's own rounding may hide the gain of a step.
constexpr double kNear = 1e-6;
// A shape outside of this range is a likelihood that runs to the border, not an estimate.
constexpr double kFlattest = 1e-7;
constexpr double kSteepest = 1e13;

struct Point {
    double a = 0, b = 1;
};

double smallest(std::span<const double> values) {
    return values.empty() ? kInfinity : *std::min_element(values.begin(), values.end());
}

double largest(std::span<const double> values) {
    return values.empty() ? -kInfinity : *std::max_element(values.begin(), values.end());
}

// Mean and scatter of ln t over the comebacks, intervals at their middle.
Point start(const LifeData& data, LifeModel model) {
    double weight = 0, mean = 0, square = 0;
    const auto take = [&](double w, double y) {
        if (w <= 0)
            return;
        weight += w;
        const double step = y - mean;
        mean += w / weight * step;
        square += w * step * (y - mean);
    };
    for (std::size_t i = 0; i < data.point.size(); ++i)
        take(data.exact[i], data.point[i]);
    for (std::size_t i = 0; i < data.from.size(); ++i)
        take(data.betweenWeight[i], 0.5 * (data.from[i] + data.to[i]));
    for (std::size_t i = 0; i < data.before.size(); ++i)
        take(data.beforeWeight[i], data.before[i] - 0.7);
    const double scatter = std::sqrt(square / weight);
    Point at;
    // One comeback has no scatter: start from how far the others were watched.
    const double reach = largest(data.point) - smallest(data.point);
    const double spread = scatter > 0 ? scatter : reach > 0 && std::isfinite(reach) ? 0.5 * reach : 0.5;
    if (model != LifeModel::Exponential)
        at.b = (model == LifeModel::Weibull ? 0.8 : 1.0) / spread;
    if (model == LifeModel::Lognormal) {
        at.a = at.b * (mean + 0.5 * spread);
        return at;
    }
    // For a given shape the Weibull scale has a closed form where nothing is an interval.
    const auto exposure = [&](double b) {
        double sum = 0;
        for (std::size_t i = 0; i < data.point.size(); ++i)
            sum += (data.exact[i] + data.survived[i]) * std::exp(b * data.point[i]);
        for (std::size_t i = 0; i < data.from.size(); ++i)
            sum += data.betweenWeight[i] * std::exp(b * 0.5 * (data.from[i] + data.to[i]));
        for (std::size_t i = 0; i < data.before.size(); ++i)
            sum += 0.5 * data.beforeWeight[i] * std::exp(b * data.before[i]);
        return sum;
    };
    double total = exposure(at.b);
    while (!std::isfinite(total) && at.b > 1e-3)
        total = exposure(at.b *= 0.5);
    at.a = total > 0 && std::isfinite(total) ? std::log(total / data.comebacks) : 0.0;
    return at;
}

struct Step {
    double a = 0, b = 0;
    double length2 = 0; ///< squared length in standard errors; infinite where the surface is not concave
};

// Newton direction; where the surface is not concave it is bent towards the gradient until it climbs.
Step newton(const LikelihoodTerms& at, bool fixedScatter) {
    const double paa = -at.aa;
    if (fixedScatter) {
        if (paa > 0)
            return {at.a / paa, 0, at.a * at.a / paa};
        return {at.a > 0 ? 0.5 : -0.5, 0, kInfinity};
    }
    double pbb = -at.bb;
    double qaa = paa;
    const double pab = -at.ab;
    bool concave = true;
    double shift = 0;
    for (int k = 0; k < 80; ++k) {
        const double determinant = qaa * pbb - pab * pab;
        if (qaa > 0 && pbb > 0 && determinant > 1e-14 * qaa * pbb) {
            Step step{(pbb * at.a - pab * at.b) / determinant, (qaa * at.b - pab * at.a) / determinant,
                      kInfinity};
            if (concave)
                step.length2 = step.a * at.a + step.b * at.b;
            return step;
        }
        concave = false;
        shift = shift == 0 ? 1e-3 : 4 * shift;
        qaa = paa + shift * (std::abs(paa) + 1e-8);
        pbb = -at.bb + shift * (std::abs(at.bb) + 1e-8);
    }
    return {at.a, at.b, kInfinity};
}

std::string borderReason(double b) {
    return b <= kFlattest
               ? "the likelihood has no maximum: it still rises as the shape falls to zero"
               : "the likelihood has no maximum: it still rises as all comebacks are put at one mileage";
}

// Inverse observed information in (location, ln scatter), from that in (a, b).
bool invertInformation(const LikelihoodTerms& at, const Point& p, LifeFit& fit) {
    if (fit.model == LifeModel::Exponential) {
        if (!(-at.aa > 0))
            return false;
        fit.covariance = {{{1 / -at.aa, 0}, {0, 0}}};
        return true;
    }
    // a = b m, b = exp(-s): the gradient's own terms vanish at the maximum but for rounding, and are kept.
    const double imm = -at.aa * p.b * p.b;
    const double ims = p.a * p.b * at.aa + p.b * p.b * at.ab + at.a * p.b;
    const double iss =
        -(p.a * p.a * at.aa + 2 * p.a * p.b * at.ab + p.b * p.b * at.bb) - at.a * p.a - at.b * p.b;
    const double determinant = imm * iss - ims * ims;
    if (!(imm > 0 && iss > 0 && determinant > 1e-14 * imm * iss))
        return false;
    fit.covariance = {{{iss / determinant, -ims / determinant}, {-ims / determinant, imm / determinant}}};
    return true;
}

} // namespace

double LifeFit::scale() const {
    return std::exp(location);
}

std::array<std::array<double, 2>, 2> LifeFit::covarianceOfShape() const {
    return {{{covariance[0][0], -covariance[0][1]}, {-covariance[1][0], covariance[1][1]}}};
}

std::optional<std::string> reasonForNoMaximum(const LifeData& data, LifeModel model) {
    if (!(data.comebacks > 0))
        return "no comeback: the data set no upper end to the life";
    // What every comeback and every watched life leaves possible for one single mileage x: low <= x <= high.
    double low = -kInfinity, high = kInfinity, firstExact = kInfinity, lastExact = -kInfinity,
           lastHolding = -kInfinity;
    for (std::size_t i = 0; i < data.point.size(); ++i) {
        if (data.exact[i] > 0) {
            firstExact = std::min(firstExact, data.point[i]);
            lastExact = std::max(lastExact, data.point[i]);
        }
        if (data.survived[i] > 0)
            lastHolding = std::max(lastHolding, data.point[i]);
    }
    low = std::max({lastHolding, largest(data.from), lastExact});
    high = std::min({smallest(data.to), smallest(data.before), firstExact});
    const bool onlyFirstLooks = data.from.empty() && firstExact == kInfinity; // comebacks in (0, t] only
    if (model == LifeModel::Exponential) {
        if (onlyFirstLooks && lastHolding == -kInfinity)
            return "nothing was seen to hold for any distance: the data set no lower end to the life";
        return std::nullopt;
    }
    if (low <= high) {
        if (firstExact < kInfinity)
            return "all comebacks fall at one mileage and nothing was watched beyond it: the spread of the "
                   "life has no "
                   "estimate";
        return "one single mileage would explain every row: the spread of the life has no estimate";
    }
    if (onlyFirstLooks && !data.hasEntries) {
        double failedY = 0, heldY = 0, failed = 0, held = 0;
        for (std::size_t i = 0; i < data.before.size(); ++i) {
            failedY += data.beforeWeight[i] * data.before[i];
            failed += data.beforeWeight[i];
        }
        for (std::size_t i = 0; i < data.point.size(); ++i) {
            heldY += data.survived[i] * data.point[i];
            held += data.survived[i];
        }
        if (held > 0 && failedY / failed <= heldY / held)
            return "no comeback was seen to happen later than at a first look, and those looks came no later "
                   "than for the "
                   "lives that hold: the likelihood has no maximum";
    }
    return std::nullopt;
}

Result<LifeFit> fitLife(const LifeData& data, LifeModel model) {
    if (const auto reason = reasonForNoMaximum(data, model))
        return fail(ErrorCode::NotEstimable, *reason);
    const bool fixed = model == LifeModel::Exponential;
    Point p = start(data, model);
    LikelihoodTerms at = logLikelihood(data, model, p.a, p.b);
    for (int k = 0; k < 60 && !std::isfinite(at.value); ++k) {
        // Far out in a tail: flatten the start until every row has a chance.
        if (fixed)
            p.a += k % 2 == 0 ? -1.0 * k : 1.0 * k;
        else
            p.a *= 0.5, p.b *= 0.5;
        at = logLikelihood(data, model, p.a, p.b);
    }
    if (!std::isfinite(at.value))
        return fail(ErrorCode::NoConvergence, "no starting point with a finite likelihood");

    bool converged = false;
    for (int k = 0; k < kMostSteps && !converged; ++k) {
        const Step step = newton(at, fixed);
        if (step.length2 < kConverged * data.comebacks) {
            converged = true;
            break;
        }
        double share = 1;
        if (!fixed && step.b < 0)
            share = std::min(share, 0.8 * p.b / -step.b);
        if (!fixed && step.b > 0)
            share = std::min(share, 4 * p.b / step.b);
        LikelihoodTerms next;
        Point q;
        bool climbed = false;
        for (int half = 0; half < 60; ++half, share *= 0.5) {
            q = {p.a + share * step.a, p.b + share * step.b};
            next = logLikelihood(data, model, q.a, q.b);
            climbed = std::isfinite(next.value) &&
                      next.value >= at.value - 1e-13 * (std::abs(at.value) + data.lives) &&
                      (next.value > at.value || step.length2 < kNear * data.comebacks);
            if (climbed)
                break;
        }
        if (!climbed) {
            converged = step.length2 < kGoodEnough * data.comebacks;
            break;
        }
        p = q;
        at = next;
        if (!fixed && (p.b < kFlattest || p.b > kSteepest))
            return fail(ErrorCode::NotEstimable, borderReason(p.b));
    }
    if (!converged)
        converged = newton(at, fixed).length2 < kGoodEnough * data.comebacks;
    if (!converged)
        return fail(ErrorCode::NoConvergence,
                    "the likelihood is too flat: the search for its maximum did not settle");

    LifeFit fit;
    fit.model = model;
    fit.scatter = fixed ? 1.0 : 1 / p.b;
    fit.location = p.a / p.b + std::log(data.unit);
    fit.logLikelihood = at.value;
    fit.lives = data.lives;
    fit.comebacks = data.comebacks;
    if (!invertInformation(at, p, fit) || !std::isfinite(fit.scale()) || fit.scale() == 0)
        return fail(ErrorCode::NotEstimable,
                    "the likelihood is flat at its top: the estimates have no finite spread");
    return fit;
}

LifeQuantile waldQuantile(const LifeFit& fit, double p, double level) {
    const double q = standardQuantile(fit.model, p) * fit.scatter;
    const double center = fit.location + q;
    const double variance =
        fit.covariance[0][0] + 2 * q * fit.covariance[0][1] + q * q * fit.covariance[1][1];
    const double reach = twoSidedDeviate(level) * std::sqrt(variance);
    return {p, representable(center), representable(center - reach), representable(center + reach)};
}

LifeSurvival survivalAt(const LifeFit& fit, double miles, double level) {
    if (miles <= 0)
        return {miles, 1, 0, 1, 1};
    const double z = (std::log(miles) - fit.location) / fit.scatter;
    // dz = -d location / scatter - z d ln scatter
    const double variance = fit.covariance[0][0] / (fit.scatter * fit.scatter) +
                            2 * z * fit.covariance[0][1] / fit.scatter + z * z * fit.covariance[1][1];
    const double se = std::sqrt(std::max(0.0, variance));
    const double reach = twoSidedDeviate(level) * se;
    return {miles, standardSurvival(fit.model, z), standardDensity(fit.model, z) * se,
            standardSurvival(fit.model, z + reach), standardSurvival(fit.model, z - reach)};
}

} // namespace milehold::core
