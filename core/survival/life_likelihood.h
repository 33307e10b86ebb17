// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"
#include "core/survival/observation.h"

#include <cstdint>
#include <span>
#include <vector>

namespace milehold::core {

/// Families of life distributions: ln T = location + scatter * W, W smallest extreme value (Weibull,
/// exponential with scatter 1) or standard normal (lognormal).
enum class LifeModel : std::uint8_t { Weibull, Lognormal, Exponential };

/// One group of observations arranged for the likelihood: mileages as logarithms after division by `unit`,
/// the geometric mean of the comebacks, so that the parameters are near 1 whatever the unit of the table.
///
/// Points (one per distinct mileage) carry comebacks exactly there and the net weight known to have survived
/// it: lives holding at it, less those that entered at it. Mileages of 0 carry no information on a positive
/// T, but a comeback at 0 is read as "within the first mile", (0, 1].
struct LifeData {
    double unit = 1;
    std::vector<double> point, exact, survived; ///< h entries each
    std::vector<double> before, beforeWeight;   ///< came back in (0, t]
    std::vector<double> from, to, width,
        betweenWeight;      ///< came back in (from, to], both > 0; width = to - from
    double sumLogExact = 0; ///< sum of weight * ln t over exact comebacks, in the unit of the table
    double lives = 0;       ///< sum of weights
    double comebacks = 0;   ///< sum of weights that came back
    bool hasEntries = false;
};

LifeData lifeData(std::span<const Observation> rows);

/// The same from counts (exact and right-censored, delayed entry): one pass over the distinct mileages.
LifeData lifeData(const Counts& counts);

/// Log likelihood and its derivatives in (a, b), z = b ln(t / unit) - a: b = 1 / scatter, a = location * b.
/// In these coordinates it is concave when nobody entered late (Burridge 1981, JRSS B 43:41; Prekopa 1973).
struct LikelihoodTerms {
    double value = 0;
    double a = 0, b = 0;
    double aa = 0, ab = 0, bb = 0;
};

/// Densities are in the unit of the table (with 1/t); delayed entry conditions on survival to it.
/// Input: b > 0 and finite. A point that the model rules out gives -infinity.   Cost: O(h) with one exp or
/// erfc each.
LikelihoodTerms logLikelihood(const LifeData& data, LifeModel model, double a, double b);

/// W with P(W <= w) = p: ln(-ln(1 - p)) or the normal quantile.
double standardQuantile(LifeModel model, double p);

/// P(W > z).
double standardSurvival(LifeModel model, double z);

/// Density of W at z.
double standardDensity(LifeModel model, double z);

} // namespace milehold::core
