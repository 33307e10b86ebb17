// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QRectF>
#include <QString>

class QPainter;

namespace milehold::ui {

/// Draws a name in the painter's pen and font from the top left on, broken between words into at most two
/// lines, of which the second one is elided.
void drawTwoLines(QPainter& painter, const QRectF& rect, const QString& name);

} // namespace milehold::ui
