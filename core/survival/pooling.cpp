// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pooling.h"

#include "core/survival/numeric.h"
#include "core/survival/pooling_marginal.h"
#include "core/survival/pooling_posterior.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

using namespace pooling;

constexpr double kNoSpread = 1e-12;

Result<Sums> sumsOf(std::span<const Counts> paths) {
    if (paths.size() < 2)
        return fail(ErrorCode::InvalidInput, "pooling takes at least two paths");
    Sums sums;
    double logs = 0, largest = 0, largestComeback = 0, least = HUGE_VAL, positive = 0;
    for (const Counts& counts : paths) {
        sums.comebacks += counts.allComebacks();
        largest = std::max(largest, counts.longestWatched());
        for (std::size_t i = 0; i < counts.size(); ++i) {
            if (counts.comebacks[i] == 0)
                continue;
            // A comeback at 0 is within the first mile; its own likelihood is that of one at the mile's end.
            const double miles = counts.miles[i] > 0 ? counts.miles[i] : 1.0;
            logs += counts.comebacks[i] * std::log(miles);
            positive += counts.comebacks[i];
            largestComeback = std::max(largestComeback, miles);
            least = std::min(least, miles);
        }
    }
    if (!(sums.comebacks > 0))
        return fail(ErrorCode::NotEstimable, "no comeback on any of the paths");
    if (least == largestComeback && largest <= largestComeback)
        return fail(ErrorCode::NotEstimable,
                    "all comebacks fall at one mileage and nothing was watched beyond it");
    sums.unit = std::exp(logs / positive);
    sums.sumLog = logs - positive * std::log(sums.unit);
    return sums;
}

} // namespace

Result<Pooling> pooledRates(std::span<const Counts> paths) {
    const Result<Sums> sums = sumsOf(paths);
    if (!sums)
        return failureOf(sums);
    double exposure = 0;
    for (const Counts& counts : paths)
        exposure += exposureOf(counts, sums->unit, 1.5).value;
    const Result<Point> common =
        climb(paths, *sums, Point(std::log(1.5), std::log(sums->comebacks / exposure), 0), Free::NoSpread);
    if (!common)
        return failureOf(common);

    // At no spread the marginal likelihood rises with it only if the paths differ more than chance makes
    // them.
    double excess = 0;
    for (const Counts& counts : paths) {
        const double expected =
            std::exp((*common)[1]) * exposureOf(counts, sums->unit, std::exp((*common)[0])).value;
        excess += std::pow(counts.allComebacks() - expected, 2) - counts.allComebacks();
    }
    Point best = *common;
    bool spreads = false;
    if (excess > 0) {
        const Result<Point> spread = climb(paths, *sums, Point(best[0], best[1], std::log(0.1)), Free::All);
        if (!spread)
            return fail(ErrorCode::NotEstimable, "too few comebacks to tell how far the paths differ");
        spreads = std::exp((*spread)[2]) > kNoSpread &&
                  marginal(paths, *sums, *spread, true).value > marginal(paths, *sums, *common, false).value;
        if (spreads)
            best = *spread;
    }
    Pooling pooling;
    pooling.shape = std::exp(best[0]);
    pooling.unit = sums->unit;
    pooling.rate = std::exp(best[1]);
    pooling.spread = spreads ? std::exp(best[2]) : 0.0;
    pooling.logMarginal = marginal(paths, *sums, best, spreads).value;
    for (const Counts& counts : paths) {
        const double e = exposureOf(counts, pooling.unit, pooling.shape).value;
        pooling.paths.push_back({counts.allComebacks(), e, 1 / (1 + pooling.spread * pooling.rate * e)});
    }
    pooling.guesses = guessesOf(paths, *sums, *common);
    return pooling;
}

PooledSurvival pooledSurvival(const Pooling& pooling, std::size_t path, double miles, double level) {
    const PooledPath& own = pooling.paths[path];
    const double x = miles > 0 ? std::pow(miles / pooling.unit, pooling.shape) : 0.0;
    PooledSurvival out;
    out.miles = miles;
    if (own.exposure > 0)
        out.own = std::exp(-own.comebacks / own.exposure * x);
    const double tail = 0.5 * (1 - level);
    const double a = 1 / pooling.spread + own.comebacks;
    const double b = 1 / (pooling.spread * pooling.rate) + own.exposure;
    out.survival = pooling.spread == 0 ? std::exp(-pooling.rate * x) : std::exp(-a * std::log1p(x / b));
    // Mean and limits rest on different ground where a path is far from the others: the limits keep the mean.
    out.lower = std::min(out.survival, std::exp(-hazardQuantile(pooling, path, miles, 1 - tail)));
    out.upper = std::max(out.survival, std::exp(-hazardQuantile(pooling, path, miles, tail)));
    return out;
}

} // namespace milehold::core
