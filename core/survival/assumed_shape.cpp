// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/assumed_shape.h"

#include "core/survival/numeric.h"

#include <cmath>

namespace milehold::core {

namespace {

double lowerSurvival(const AssumedShape& assumed, double miles) {
    return std::exp(-std::pow(miles / assumed.lowerScale, assumed.shape));
}

} // namespace

Result<std::vector<AssumedShape>> assumedShapes(const Counts& counts, std::span<const double> shapes,
                                                double level) {
    if (!(level > 0 && level < 1))
        return fail(ErrorCode::InvalidInput, "a level lies between 0 and 1");
    const double unit = counts.longestWatched();
    if (!(unit > 0))
        return fail(ErrorCode::NotEstimable, "nothing was watched over any distance");
    std::vector<AssumedShape> result;
    for (const double shape : shapes) {
        if (!(shape > 0) || !std::isfinite(shape))
            return fail(ErrorCode::InvalidInput, "a shape is greater than 0");
        double total = 0; // in units of the longest watch, so that no power overflows
        for (std::size_t i = 0; i < counts.size(); ++i)
            total += (counts.comebacks[i] + counts.left[i]) * std::pow(counts.miles[i] / unit, shape);
        for (std::size_t i = 0; i < counts.entryMiles.size(); ++i)
            total -= counts.entered[i] * std::pow(counts.entryMiles[i] / unit, shape);
        const double comebacks = counts.allComebacks();
        AssumedShape assumed;
        assumed.shape = shape;
        if (comebacks > 0)
            assumed.scale = unit * std::pow(total / comebacks, 1 / shape);
        assumed.lowerScale =
            unit * std::pow(2 * total / chiSquareQuantile(level, 2 * comebacks + 2), 1 / shape);
        result.push_back(assumed);
    }
    return result;
}

WorstSurvival worstSurvival(std::span<const AssumedShape> shapes, double miles) {
    WorstSurvival worst{miles, 1, shapes.front().shape};
    for (const AssumedShape& assumed : shapes) {
        const double lower = lowerSurvival(assumed, miles);
        if (lower >= worst.lower)
            continue;
        worst.lower = lower;
        worst.shape = assumed.shape;
    }
    return worst;
}

} // namespace milehold::core
