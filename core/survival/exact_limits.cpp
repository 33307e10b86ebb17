// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/exact_limits.h"

#include "core/survival/beta_product.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

Beta following(BetaProduct before, const Curve& curve, std::size_t step) {
    before.multiply(curve.watched[step], 1);
    return before.matched();
}

} // namespace

void addExactLimits(Curve& curve) {
    const std::size_t h = curve.size();
    const double tail = (1 - curve.options.level) / 2;
    const bool midP = curve.options.limits == LimitMethod::ExactMidP;
    const BetaQuantile below(tail, BetaQuantile::Tail::Lower);
    const BetaQuantile above(tail, BetaQuantile::Tail::Upper);
    curve.limitsBeforeFirst = true;
    curve.limitsBegin = 0;
    curve.limitsEnd = h;
    curve.lower.resize(h);
    curve.upper.resize(h);

    BetaProduct product;
    const Beta start = following(product, curve, 0);
    double lower = midP ? below.ofEvenMixture(Beta{}, start) : below(start);
    double upper = 1;
    curve.lowerBeforeFirst = lower;
    curve.upperBeforeFirst = upper;
    Beta reached; // W-
    for (std::size_t i = 0; i < h; ++i) {
        const double d = curve.comebacksAt[i];
        if (d > 0) {
            product.multiply(curve.watched[i] - d + 1, d);
            reached = product.matched();
        }
        const double survival = curve.survival[i];
        const bool last = i + 1 == h;
        const Beta next = last ? Beta{0, 1} : following(product, curve, i + 1);
        if (midP)
            upper = std::min(upper, above.ofEvenMixture(reached, next));
        else if (d > 0)
            upper = std::min(upper, above(reached));
        if (last)
            lower = 0;
        else
            lower = std::min(lower, midP ? below.ofEvenMixture(reached, next) : below(next));
        // With delayed entries the estimate can fall to 0 while the products have not.
        curve.lower[i] = lower = std::min(lower, survival);
        curve.upper[i] = upper = std::max(upper, survival);
    }
}

} // namespace milehold::core
