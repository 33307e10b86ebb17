// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/life_likelihood.h"

#include "core/survival/numeric.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

namespace milehold::core {

namespace {

const double kHalfLogTwoPi = 0.5 * std::log(2.0 * std::numbers::pi);
constexpr double kInfinity = std::numeric_limits<double>::infinity();

// ln(t / unit) without losing the digits of t - unit where all comebacks lie close together.
double logRatio(double t, double unit) {
    const double relative = (t - unit) / unit;
    return std::abs(relative) < 0.5 ? std::log1p(relative) : std::log(t / unit);
}

/// A function of z = b y - a with its first two derivatives.
struct Curvature {
    double value, first, second;
};

void add(LikelihoodTerms& sum, double weight, double y, const Curvature& h) {
    sum.value += weight * h.value;
    sum.a -= weight * h.first;
    sum.b += weight * y * h.first;
    sum.aa += weight * h.second;
    sum.ab -= weight * y * h.second;
    sum.bb += weight * y * y * h.second;
}

// ln P(W <= z).
Curvature logBefore(LifeModel model, double z) {
    if (model == LifeModel::Lognormal) {
        const double m = normalHazard(-z);
        return {logNormalTail(-z), m, -m * (m + z)};
    }
    const double e = std::exp(z);
    if (e > 700)
        return {0, 0, 0};
    const double m = e / std::expm1(e);
    return {std::log(-std::expm1(-e)), m, m * (1 - e - m)};
}

Curvature logDensity(LifeModel model, double z) {
    if (model == LifeModel::Lognormal)
        return {-0.5 * z * z - kHalfLogTwoPi, -z, -1};
    const double e = std::exp(z);
    return {z - e, 1 - e, -e};
}

// Gauss-Legendre nodes and weights on (0, 1), eight points (Abramowitz & Stegun, table 25.4).
constexpr std::array<double, 4> kNode = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                         0.9602898564975363};
constexpr std::array<double, 4> kNodeWeight = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                               0.1012285362903763};

// A narrow interval: P as the mean of the density over it. Differences of two close probabilities would lose
// digits, in the second derivatives all of them.
void addNarrow(LikelihoodTerms& sum, LifeModel model, double weight, double from, double width, double a,
               double b) {
    std::array<Curvature, 8> h{};
    std::array<double, 8> y{}, share{};
    double top = -kInfinity;
    for (std::size_t k = 0; k < 8; ++k) {
        const double node = k < 4 ? kNode[k] : -kNode[k - 4];
        y[k] = from + 0.5 * width * (1 + node);
        h[k] = logDensity(model, b * y[k] - a);
        top = std::max(top, h[k].value);
    }
    double total = 0;
    for (std::size_t k = 0; k < 8; ++k) {
        share[k] = 0.5 * kNodeWeight[k % 4] * std::exp(h[k].value - top);
        total += share[k];
    }
    double meanA = 0, meanB = 0;
    for (std::size_t k = 0; k < 8; ++k) {
        share[k] /= total;
        meanA -= share[k] * h[k].first;
        meanB += share[k] * y[k] * h[k].first;
    }
    sum.value += weight * (top + std::log(total) + std::log(b * width));
    sum.a += weight * meanA;
    sum.b += weight * (meanB + 1 / b);
    sum.bb -= weight / (b * b);
    for (std::size_t k = 0; k < 8; ++k) {
        const double da = -h[k].first - meanA;
        const double db = y[k] * h[k].first - meanB;
        sum.aa += weight * share[k] * (h[k].second + da * da);
        sum.ab += weight * share[k] * (-y[k] * h[k].second + da * db);
        sum.bb += weight * share[k] * (y[k] * y[k] * h[k].second + db * db);
    }
}

/// ln P(z1 < W <= z2) with the densities at both ends over that probability.
struct Between {
    double value, densityFrom, densityTo;
};

Between between(LifeModel model, double z1, double z2) {
    if (model == LifeModel::Lognormal) {
        // Measured from the nearer tail, mirrored where both ends lie left of the middle.
        const bool mirrored = z1 + z2 < 0;
        const double low = mirrored ? -z2 : z1;
        const double high = mirrored ? -z1 : z2;
        const double logLow = logNormalTail(low);
        const double logP = logLow + std::log1p(-std::exp(logNormalTail(high) - logLow));
        const double d1 = std::exp(-0.5 * z1 * z1 - kHalfLogTwoPi - logP);
        const double d2 = std::exp(-0.5 * z2 * z2 - kHalfLogTwoPi - logP);
        return {logP, d1, d2};
    }
    const double e1 = std::exp(z1);
    const double e2 = std::exp(z2);
    const double share = -std::expm1(e1 - e2); // P = exp(-e1) * share
    const double atTo = e2 - e1 > 745 ? 0.0 : e2 * std::exp(e1 - e2) / share;
    return {-e1 + std::log(share), e1 / share, atTo};
}

void addBetween(LikelihoodTerms& sum, LifeModel model, double weight, double from, double to, double width,
                double a, double b) {
    const double z1 = b * from - a;
    const double z2 = b * to - a;
    const double steepness = model == LifeModel::Lognormal ? std::max({1.0, std::abs(z1), std::abs(z2)})
                                                           : 1 + std::exp(std::min(z2, 700.0));
    if (b * width * steepness < 0.5)
        return addNarrow(sum, model, weight, from, width, a, b);
    const Between p = between(model, z1, z2);
    if (!std::isfinite(p.value)) {
        sum.value = -kInfinity;
        return;
    }
    const double slope1 = model == LifeModel::Lognormal ? -z1 : 1 - std::exp(z1); // (ln density)'
    const double slope2 = model == LifeModel::Lognormal ? -z2 : 1 - std::exp(z2);
    const double g1 = -p.densityFrom;
    const double g2 = p.densityTo;
    const double h11 = g1 * slope1 - g1 * g1;
    const double h22 = (g2 == 0 ? 0 : g2 * slope2) - g2 * g2;
    const double h12 = -g1 * g2;
    sum.value += weight * p.value;
    sum.a -= weight * (g1 + g2);
    sum.b += weight * (from * g1 + to * g2);
    sum.aa += weight * (h11 + 2 * h12 + h22);
    sum.ab -= weight * (from * h11 + (from + to) * h12 + to * h22);
    sum.bb += weight * (from * from * h11 + 2 * from * to * h12 + to * to * h22);
}

void addPoints(LikelihoodTerms& sum, const LifeData& data, LifeModel model, double a, double b) {
    const std::size_t n = data.point.size();
    double value = 0, da = 0, db = 0, aa = 0, ab = 0, bb = 0, d = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const double y = data.point[i];
        const double z = b * y - a;
        const double failed = data.exact[i];
        double first = 0;
        double second = 0;
        if (model == LifeModel::Lognormal) {
            if (failed != 0) {
                value -= failed * (0.5 * z * z + kHalfLogTwoPi);
                first -= failed * z;
                second -= failed;
            }
            if (const double s = data.survived[i]; s != 0) {
                const double m = normalHazard(z);
                value += s * logNormalTail(z);
                first -= s * m;
                second -= s * m * (m - z);
            }
        } else {
            const double e = (failed + data.survived[i]) * std::exp(z);
            value += failed * z - e;
            first = failed - e;
            second = -e;
        }
        d += failed;
        da -= first;
        db += y * first;
        aa += second;
        ab -= y * second;
        bb += y * y * second;
    }
    sum.value += value + d * std::log(b) - data.sumLogExact;
    sum.a += da;
    sum.b += db + d / b;
    sum.aa += aa;
    sum.ab += ab;
    sum.bb += bb - d / (b * b);
}

double geometricMean(double weightedLog, double weight) {
    return weight > 0 ? std::exp(weightedLog / weight) : 1.0;
}

} // namespace

LifeData lifeData(std::span<const Observation> rows) {
    LifeData data;
    struct Net {
        double exact = 0, survived = 0;
    };
    std::map<double, Net> points;
    double sumLog = 0, sumLogAll = 0, positive = 0;
    std::vector<Observation> intervals;
    for (const Observation& row : rows) {
        const double w = row.weight;
        data.lives += w;
        if (row.lower > 0) {
            sumLogAll += w * std::log(row.lower);
            positive += w;
        }
        if (row.entry > 0) {
            points[row.entry].survived -= w;
            data.hasEntries = true;
        }
        if (!row.cameBack()) {
            if (row.lower > 0)
                points[row.lower].survived += w;
            continue;
        }
        data.comebacks += w;
        const double middle =
            row.isExact() ? std::max(row.lower, row.lower == 0 ? 1.0 : 0.0) : 0.5 * (row.lower + row.upper);
        sumLog += w * std::log(middle);
        if (row.isExact() && row.lower > 0) {
            points[row.lower].exact += w;
            data.sumLogExact += w * std::log(row.lower);
        } else {
            intervals.push_back(row);
        }
    }
    data.unit =
        data.comebacks > 0 ? geometricMean(sumLog, data.comebacks) : geometricMean(sumLogAll, positive);
    for (const auto& [miles, net] : points) {
        data.point.push_back(logRatio(miles, data.unit));
        data.exact.push_back(net.exact);
        data.survived.push_back(net.survived);
    }
    for (const Observation& row : intervals) {
        if (row.lower == 0) {
            data.before.push_back(logRatio(row.isExact() ? 1.0 : row.upper, data.unit));
            data.beforeWeight.push_back(row.weight);
        } else {
            data.from.push_back(logRatio(row.lower, data.unit));
            data.to.push_back(logRatio(row.upper, data.unit));
            data.width.push_back(logRatio(row.upper, row.lower));
            data.betweenWeight.push_back(row.weight);
        }
    }
    return data;
}

LifeData lifeData(const Counts& counts) {
    LifeData data;
    double sumLog = 0, sumLogAll = 0, positive = 0;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        const double w = counts.comebacks[i] + counts.left[i];
        data.lives += w;
        data.comebacks += counts.comebacks[i];
        if (counts.miles[i] <= 0)
            continue;
        const double logMiles = std::log(counts.miles[i]);
        data.sumLogExact += counts.comebacks[i] * logMiles;
        sumLog += counts.comebacks[i] * logMiles;
        sumLogAll += w * logMiles;
        positive += w;
    }
    data.unit =
        data.comebacks > 0 ? geometricMean(sumLog, data.comebacks) : geometricMean(sumLogAll, positive);
    data.hasEntries = !counts.entryMiles.empty();
    std::size_t e = 0;
    const auto addEntriesBelow = [&](double miles) {
        for (; e < counts.entryMiles.size() && counts.entryMiles[e] < miles; ++e) {
            data.point.push_back(logRatio(counts.entryMiles[e], data.unit));
            data.exact.push_back(0);
            data.survived.push_back(-counts.entered[e]);
        }
    };
    for (std::size_t i = 0; i < counts.size(); ++i) {
        const double miles = counts.miles[i];
        if (miles <= 0) {
            if (counts.comebacks[i] > 0) {
                data.before.push_back(logRatio(1.0, data.unit));
                data.beforeWeight.push_back(counts.comebacks[i]);
            }
            continue;
        }
        addEntriesBelow(miles);
        double survived = counts.left[i];
        if (e < counts.entryMiles.size() && counts.entryMiles[e] == miles)
            survived -= counts.entered[e++];
        data.point.push_back(logRatio(miles, data.unit));
        data.exact.push_back(counts.comebacks[i]);
        data.survived.push_back(survived);
    }
    addEntriesBelow(kInfinity);
    return data;
}

LikelihoodTerms logLikelihood(const LifeData& data, LifeModel model, double a, double b) {
    LikelihoodTerms sum;
    addPoints(sum, data, model, a, b);
    for (std::size_t i = 0; i < data.before.size(); ++i)
        add(sum, data.beforeWeight[i], data.before[i], logBefore(model, b * data.before[i] - a));
    for (std::size_t i = 0; i < data.from.size(); ++i)
        addBetween(sum, model, data.betweenWeight[i], data.from[i], data.to[i], data.width[i], a, b);
    if (std::isnan(sum.value))
        sum.value = -kInfinity;
    return sum;
}

double standardQuantile(LifeModel model, double p) {
    return model == LifeModel::Lognormal ? normalQuantile(p) : std::log(-std::log1p(-p));
}

double standardSurvival(LifeModel model, double z) {
    return model == LifeModel::Lognormal ? normalTail(z) : std::exp(-std::exp(z));
}

double standardDensity(LifeModel model, double z) {
    return std::exp(logDensity(model, z).value);
}

} // namespace milehold::core
