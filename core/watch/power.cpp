// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/watch/power.h"

#include "core/survival/numeric.h"

#include <cmath>

namespace milehold::core {

namespace {

bool isShare(double value) {
    return value > 0 && value < 1;
}

Result<void> check(const PlannedComparison& c) {
    if (!(c.hazardRatio > 0) || c.hazardRatio == 1 || !std::isfinite(c.hazardRatio))
        return fail(ErrorCode::InvalidInput, "the hazard ratio is greater than 0 and not 1");
    if (!isShare(c.level) || !isShare(c.power) || !isShare(c.firstShare))
        return fail(ErrorCode::InvalidInput, "level, power and share of the first path lie between 0 and 1");
    return {};
}

} // namespace

Result<ComebacksNeeded> comebacksNeeded(const PlannedComparison& c) {
    if (const auto checked = check(c); !checked)
        return failureOf(checked);
    const double z = twoSidedDeviate(c.level) + normalQuantile(c.power);
    const double log = std::log(c.hazardRatio);
    const double k = (1 - c.firstShare) / c.firstShare;
    return ComebacksNeeded{z * z / (c.firstShare * (1 - c.firstShare) * log * log),
                           z * z * std::pow((1 + k * c.hazardRatio) / (1 - c.hazardRatio), 2) / k};
}

Result<double> jobsNeeded(double comebacks, double comebackShare) {
    if (!(comebacks > 0) || !(comebackShare > 0 && comebackShare <= 1))
        return fail(ErrorCode::InvalidInput,
                    "comebacks are more than 0 and their share lies between 0 and 1");
    return comebacks / comebackShare;
}

Result<double> powerOf(double comebacks, const PlannedComparison& c) {
    if (const auto checked = check(c); !checked)
        return failureOf(checked);
    if (!(comebacks >= 0))
        return fail(ErrorCode::InvalidInput, "comebacks are 0 or more");
    const double reach =
        std::sqrt(comebacks * c.firstShare * (1 - c.firstShare)) * std::abs(std::log(c.hazardRatio));
    return normalTail(twoSidedDeviate(c.level) - reach);
}

} // namespace milehold::core
