// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/curve.h"

namespace milehold::core {

/// survivalCurve() from counts that nobody needs afterwards: their columns become the curve's, which saves
/// copying them.
Result<Curve> curveTaking(Counts&& counts, const CurveOptions& options = {});

} // namespace milehold::core
