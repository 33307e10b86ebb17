// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pointwise_limits.h"

#include "core/survival/numeric.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

struct Pair {
    double lower = 1;
    double upper = 1;
};

Pair limitsAt(LimitMethod method, double survival, double se, double z) {
    if (method == LimitMethod::Linear)
        return {std::max(0.0, survival - z * se), std::min(1.0, survival + z * se)};
    if (method == LimitMethod::Log) {
        const double reach = z * se / survival;
        return {survival * std::exp(-reach), std::min(1.0, survival * std::exp(reach))};
    }
    const double logSurvival = std::log(survival);
    const double factor = std::exp(-z * se / (survival * logSurvival));
    return {std::exp(logSurvival * factor), std::exp(logSurvival / factor)};
}

} // namespace

void addPointwiseLimits(Curve& curve) {
    const std::size_t h = curve.size();
    const double z = twoSidedDeviate(curve.options.level);
    const LimitMethod method = curve.options.limits;
    const bool logLog = method == LimitMethod::LogLog;
    curve.lowerBeforeFirst = 1;
    curve.upperBeforeFirst = 1;
    curve.limitsBeforeFirst = !logLog;
    curve.limitsEnd = curve.seEnd;
    curve.limitsBegin = 0;
    if (logLog)
        while (curve.limitsBegin < curve.seEnd && curve.survival[curve.limitsBegin] == 1)
            ++curve.limitsBegin;
    curve.lower.resize(h);
    curve.upper.resize(h);
    Pair limits;
    for (std::size_t i = curve.limitsBegin; i < curve.limitsEnd; ++i) {
        if (curve.comebacksAt[i] > 0)
            limits = limitsAt(method, curve.survival[i], curve.se[i], z);
        curve.lower[i] = limits.lower;
        curve.upper[i] = limits.upper;
    }
}

} // namespace milehold::core
