// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/two_lines.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QTextLayout>

namespace milehold::ui {

void drawTwoLines(QPainter& painter, const QRectF& rect, const QString& name) {
    const QFontMetricsF metrics(painter.font());
    QTextLayout layout(name, painter.font());
    layout.beginLayout();
    QTextLine first = layout.createLine();
    first.setLineWidth(rect.width());
    const QTextLine second = layout.createLine();
    const int breakAt = second.isValid() ? second.textStart() : static_cast<int>(name.size());
    layout.endLayout();
    const auto draw = [&](double top, const QString& line) {
        painter.drawText(QRectF(rect.left(), top, rect.width(), metrics.lineSpacing()),
                         Qt::AlignLeft | Qt::AlignVCenter | Qt::TextSingleLine,
                         metrics.elidedText(line.trimmed(), Qt::ElideRight, rect.width()));
    };
    draw(rect.top(), name.left(breakAt));
    if (breakAt < name.size())
        draw(rect.top() + metrics.lineSpacing(), name.mid(breakAt));
}

} // namespace milehold::ui
