// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/curve.h"

namespace milehold::core {

/// Fills the limits of a curve whose estimate and standard errors stand, by its option: linear S -+ z se,
/// log S exp(-+z se / S), log-log exp(-exp(ln(-ln S) +- z se / (S |ln S|))), each cut to [0, 1]. They are
/// pointwise and not made monotone. None exist at S = 0; at S = 1 the log-log ones do not. Source:
/// Kalbfleisch & Prentice 2002, The Statistical Analysis of Failure Time Data, section 1.4.
void addPointwiseLimits(Curve& curve);

} // namespace milehold::core
