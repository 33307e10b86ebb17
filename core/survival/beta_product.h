// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/beta_quantile.h"

namespace milehold::core {

/// The first two moments of a product of independent betas, kept so that nothing cancels while the product is
/// near 1: its mean S, 1 - S, and the square of its coefficient of variation, E[W^2] / S^2 - 1.
class BetaProduct {
public:
    void multiply(double a, double b) {
        const double sum = a + b;
        const double variation = b / (a * (sum + 1));
        oneLess_ += mean_ * (b / sum);
        mean_ *= a / sum;
        variation_ += variation + variation_ * variation;
    }

    /// The beta of the same mean and variance.
    Beta matched() const {
        if (variation_ == 0)
            return {1, 0};
        const double a = oneLess_ / variation_ - mean_;
        return {a, a * oneLess_ / mean_};
    }

private:
    double mean_ = 1;
    double oneLess_ = 0;
    double variation_ = 0;
};

} // namespace milehold::core
