// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/truth.h"

#include <cmath>

namespace milehold::sample {

double LifeTruth::survival(double t) const {
    if (t < 0)
        return 1.0;
    return (1.0 - neverHeld) * std::exp(-std::pow(t / scale, shape));
}

double Truth::survival(PathKey path, double miles) const {
    double sum = 0;
    std::size_t n = 0;
    for (const LifeTruth& life : lives) {
        if (life.path != path)
            continue;
        sum += life.survival(miles);
        ++n;
    }
    if (n > 0)
        return sum / static_cast<double>(n);
    const PathLaw& law = lawOf(path);
    return LifeTruth{{}, path, law.neverHeld, law.shape, law.scale, 0, 0}.survival(miles);
}

const PathLaw& lawOf(PathKey path) {
    return kPathLaws[static_cast<std::size_t>(path)];
}

double revisionFactor(std::string_view number, std::string_view revision) {
    for (const RevisionFactor& entry : kRevisionFactors)
        if (entry.number == number && entry.revision == revision)
            return entry.factor;
    return 1.0;
}

} // namespace milehold::sample
