// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/value_axis.h"

#include "ui/theme/figures.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

void paintValueAxis(QPainter& painter, const QRectF& rect, const QRectF& plot, const Axis& axis,
                    const QString& name, bool percent, const Tokens& t) {
    painter.setPen(t.inkSoft);
    painter.drawText(QRectF(rect.left(), rect.top(), rect.width(), 20), Qt::AlignLeft | Qt::AlignVCenter,
                     name);
    const auto ticks = niceTicks(0, axis.to, std::max(2, static_cast<int>(plot.height() / 48)));
    for (const double tick : ticks) {
        const double at = std::round(axis.at(tick));
        painter.setPen(QPen(tick == 0 ? t.outline : t.hairline, 1));
        painter.drawLine(QPointF(plot.left(), at), QPointF(plot.right(), at));
        painter.setPen(t.inkSoft);
        drawFigures(painter, QRectF(rect.left(), at - 9, plot.left() - rect.left() - 8, 18),
                    Qt::AlignRight | Qt::AlignVCenter,
                    percent ? shareTickText(tick, ticks) : tickText(tick, ticks));
    }
}

} // namespace milehold::ui
