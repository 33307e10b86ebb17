// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/axis.h"
#include "ui/theme/tokens.h"

#include <QRectF>

class QPainter;

namespace milehold::ui {

/// The upright axis at the left of a plot: its name over it, a line across the plot and a figure at each
/// tick. Uses the painter's font and leaves the pen in the soft ink. `percent`: the values are shares of 1.
void paintValueAxis(QPainter& painter, const QRectF& rect, const QRectF& plot, const Axis& axis,
                    const QString& name, bool percent, const Tokens& t);

} // namespace milehold::ui
