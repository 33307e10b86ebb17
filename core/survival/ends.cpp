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

// S, the incidence F of one end and the incidence G of all others, with their variances, mileage after
// mileage: S' = S (1 - h), F' = F + S f, G' = G + S g. The three add up to 1. Where F is the greater part its
// variance is taken from the other two, so that it is exactly 0 where everything has ended in this one way.
class Recursion {
public:
    void step(double n, double any, double own) {
        const double stay = (n - any) / n;
        own_.step(n, own / n, stay, survival_, survivalVariance_);
        others_.step(n, (any - own) / n, stay, survival_, survivalVariance_);
        survivalVariance_ = stay * stay * survivalVariance_ + survival_ * survival_ * (any / n) * stay / n;
        survival_ *= stay;
    }

    double incidence() const { return own_.incidence; }
    double se() const {
        const double variance = own_.incidence <= 0.5
                                    ? own_.variance
                                    : survivalVariance_ + others_.variance + 2 * others_.covariance;
        return std::sqrt(std::max(0.0, variance));
    }

private:
    struct Part {
        double incidence = 0;
        double variance = 0;
        double covariance = 0; // with S

        void step(double n, double share, double stay, double survival, double survivalVariance) {
            const double square = survival * survival;
            incidence += survival * share;
            variance +=
                2 * share * covariance + share * share * survivalVariance + square * share * (1 - share) / n;
            covariance = stay * (covariance + share * survivalVariance) - square * share * stay / n;
        }
    };
    double survival_ = 1;
    double survivalVariance_ = 0;
    Part own_;
    Part others_;
};

} // namespace

Result<EndCurves> endCurves(const Counts& counts, std::span<const EndCode> ends) {
    if (counts.size() == 0)
        return fail(ErrorCode::InvalidInput, "there are no lives to tell the ends of");
    if (counts.leftBy.empty())
        return fail(ErrorCode::InvalidInput, "the counts do not tell the ends apart");
    EndCurves curves;
    curves.lives = counts.lives();
    curves.longestWatched = counts.longestWatched();

    const std::vector<double> watched = counts.watched();
    std::vector<std::size_t> steps; // rows of the counts where anything but holding happens
    std::vector<double> any;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        double here = counts.comebacks[i];
        for (std::size_t end = kFirstOtherEnd; end < counts.leftBy.size(); ++end)
            here += counts.leftBy[end][i];
        if (!(here > 0))
            continue;
        steps.push_back(i);
        any.push_back(std::min(here, watched[i]));
        curves.miles.push_back(counts.miles[i]);
    }
    curves.survival.reserve(steps.size());
    double survival = 1;
    for (std::size_t s = 0; s < steps.size(); ++s)
        curves.survival.push_back(survival *= (watched[steps[s]] - any[s]) / watched[steps[s]]);

    for (const EndCode end : ends) {
        EndCurve curve;
        curve.end = end;
        curve.incidence.reserve(steps.size());
        curve.se.reserve(steps.size());
        Recursion recursion;
        for (std::size_t s = 0; s < steps.size(); ++s) {
            const double own = atEnd(counts, end, steps[s]);
            curve.count += own;
            recursion.step(watched[steps[s]], any[s], own);
            curve.incidence.push_back(recursion.incidence());
            curve.se.push_back(recursion.se());
        }
        curves.ends.push_back(std::move(curve));
    }
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
