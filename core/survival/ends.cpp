// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/ends.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

double atEnd(const Counts& counts, EndCode end, std::size_t i) {
    if (end == kCameBack)
        return counts.comebacks[i];
    return end < counts.leftBy.size() && !counts.leftBy[end].empty() ? counts.leftBy[end][i] : 0;
}

// What every end meets alike, at each mileage where anything but holding happens.
struct Steps {
    std::vector<std::size_t> rows;                  // of the counts
    std::vector<double> watched;                    // n
    std::vector<double> any;                        // ends of every kind
    std::vector<double> stay;                       // 1 - any / n
    std::vector<double> survival, survivalVariance; // of S, just before
};

Steps stepsOf(const Counts& counts) {
    const std::size_t h = counts.size();
    const std::vector<double> watched = counts.watched();
    std::vector<double> here = counts.comebacks;
    for (std::size_t end = kFirstOtherEnd; end < counts.leftBy.size(); ++end)
        for (std::size_t i = 0; i < h; ++i)
            here[i] += counts.leftBy[end][i];
    const auto used =
        static_cast<std::size_t>(std::count_if(here.begin(), here.end(), [](double x) { return x > 0; }));
    Steps steps;
    for (auto* column : {&steps.watched, &steps.any, &steps.stay, &steps.survival, &steps.survivalVariance})
        column->reserve(used);
    steps.rows.reserve(used);
    double survival = 1;
    double variance = 0;
    for (std::size_t i = 0; i < h; ++i) {
        if (!(here[i] > 0))
            continue;
        const double n = watched[i];
        const double any = std::min(here[i], n);
        const double stay = (n - any) / n;
        steps.rows.push_back(i);
        steps.any.push_back(any);
        steps.watched.push_back(n);
        steps.stay.push_back(stay);
        steps.survival.push_back(survival);
        steps.survivalVariance.push_back(variance);
        variance = stay * stay * variance + survival * survival * (any / n) * stay / n;
        survival *= stay;
    }
    return steps;
}

// S, the incidence F of one end and the incidence G of all others, with their variances, mileage after
// mileage: S' = S (1 - h), F' = F + S f, G' = G + S g. The three add up to 1. Where F is the greater part its
// variance is taken from the other two, so that it is exactly 0 where everything has ended in this one way.
struct Part {
    double incidence = 0;
    double variance = 0;
    double covariance = 0; // with S

    // `square` is S^2 / n, `share` what ends in this way of those watched.
    void step(double square, double share, double stay, double survival, double survivalVariance) {
        incidence += survival * share;
        variance += 2 * share * covariance + share * share * survivalVariance + square * share * (1 - share);
        covariance = stay * (covariance + share * survivalVariance) - square * share * stay;
    }
};

EndCurve curveOf(const Counts& counts, const Steps& steps, EndCode end) {
    const std::size_t used = steps.rows.size();
    EndCurve curve;
    curve.end = end;
    curve.incidence.resize(used);
    curve.se.resize(used);
    Part own;
    Part others;
    for (std::size_t s = 0; s < used; ++s) {
        const double ended = atEnd(counts, end, steps.rows[s]);
        const double n = steps.watched[s];
        const double stay = steps.stay[s];
        const double survival = steps.survival[s];
        const double variance = steps.survivalVariance[s];
        const double square = survival * survival / n;
        curve.count += ended;
        own.step(square, ended / n, stay, survival, variance);
        others.step(square, (steps.any[s] - ended) / n, stay, survival, variance);
        const double after = stay * stay * variance + square * (steps.any[s] / n) * stay;
        curve.incidence[s] = own.incidence;
        curve.se[s] = own.incidence <= 0.5 ? own.variance : after + others.variance + 2 * others.covariance;
    }
    for (double& se : curve.se)
        se = std::sqrt(std::max(0.0, se));
    return curve;
}

} // namespace

Result<EndCurves> endCurves(const Counts& counts, std::span<const EndCode> ends) {
    if (counts.size() == 0)
        return fail(ErrorCode::InvalidInput, "there are no lives to tell the ends of");
    if (counts.leftBy.empty())
        return fail(ErrorCode::InvalidInput, "the counts do not tell the ends apart");
    EndCurves curves;
    curves.lives = counts.lives();
    curves.longestWatched = counts.longestWatched();

    const Steps steps = stepsOf(counts);
    const std::size_t used = steps.rows.size();
    curves.miles.reserve(used);
    curves.survival.reserve(used);
    for (std::size_t s = 0; s < used; ++s) {
        curves.miles.push_back(counts.miles[steps.rows[s]]);
        curves.survival.push_back(steps.survival[s] * steps.stay[s]);
    }
    for (const EndCode end : ends)
        curves.ends.push_back(curveOf(counts, steps, end));
    return curves;
}

EndPoint incidenceAt(const EndCurves& curves, const EndCurve& end, double miles) {
    EndPoint point;
    point.miles = miles;
    if (!(miles >= 0) || miles > curves.longestWatched)
        return point;
    const auto after =
        std::upper_bound(curves.miles.begin(), curves.miles.end(), miles) - curves.miles.begin();
    point.incidence = after == 0 ? 0 : end.incidence[static_cast<std::size_t>(after) - 1];
    point.se = after == 0 ? 0 : end.se[static_cast<std::size_t>(after) - 1];
    return point;
}

} // namespace milehold::core
