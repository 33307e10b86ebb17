// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/curve.h"

namespace milehold::core {

/// Fills what the steps of a curve are made of, from its `watched` and `comebacksAt`: product limit,
/// Greenwood's standard error, Nelson-Aalen, and unless the limits are exact ones the pointwise limits by its
/// option with the range where they exist (none at S = 0; the log-log ones not at S = 1 either).
/// Cost: O(h), most of it at the steps with a comeback.
void addSteps(Curve& curve);

} // namespace milehold::core
