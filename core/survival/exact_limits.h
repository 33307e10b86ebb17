// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/curve.h"

namespace milehold::core {

/// Fills the limits of a curve by the beta product confidence procedure, method of moments, or its mid-p form
/// when the curve's option says so. They exist at every step, never increase, contain the estimate and hold
/// their level in samples of any size; without a life that left early they are the exact binomial ones.
///
/// At step j the upper limit is a quantile of W-(j), the product of Beta(n_i - d_i + 1, d_i) over i <= j, the
/// lower one of W+(j) = W-(j) Beta(n_{j+1}, 1); past the last mileage W+ is 0. Source: Fay, Brittain &
/// Proschan 2013, Biostatistics 14:723; Fay & Brittain 2016, Stat Med 35:2726 (mid-p).
void addExactLimits(Curve& curve);

} // namespace milehold::core
