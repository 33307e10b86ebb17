// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QFont>
#include <QRectF>
#include <QString>

class QPainter;

namespace milehold::ui {

/// Numbers whose digits all have the same width, so that columns of them line up. Qt before 6.7 cannot switch
/// a font's tabular figures on, so the digits are placed one by one; text without digits is drawn as usual.

/// Width of the text with tabular digits.
double figuresWidth(const QFont& font, const QString& text);

/// Draws one line in the painter's pen and font. `alignment` as for QPainter::drawText; too long a text is
/// elided.
void drawFigures(QPainter& painter, const QRectF& rect, Qt::Alignment alignment, const QString& text);

} // namespace milehold::ui
