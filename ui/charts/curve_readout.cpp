// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/curve_chart.h"
#include "ui/charts/curve_frame.h"
#include "ui/charts/curve_words.h"
#include "ui/theme/chart_palette.h"
#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

void CurveFrame::paintReadout(QPainter& painter, const Tokens& t) const {
    if (!view_.readout || data_.series.empty())
        return;
    const paint::Scope scope(painter);
    const double miles = *view_.readout;
    const double at = std::round(x.at(miles));
    painter.setPen(QPen(t.inkSoft, 1));
    painter.drawLine(QPointF(at, plot.top()), QPointF(at, plot.bottom()));

    struct Line {
        int series;
        QString name, chance, watched;
        bool beyond, few;
    };
    std::vector<Line> lines;
    for (std::size_t i = 0; i < data_.series.size(); ++i) {
        const CurveSeries& series = data_.series[i];
        const auto reading = readAt(series, miles, data_.fewerThan);
        if (!reading) {
            lines.push_back(
                {static_cast<int>(i), series.name, CurveChart::tr("not watched so far"), {}, true, true});
            continue;
        }
        const QPointF point(at, y.at(reading->survival));
        painter.setPen(QPen(t.surface, 1.5));
        painter.setBrush(seriesLook(series.look, t.scheme).colour);
        painter.drawEllipse(point, 4.5, 4.5);
        lines.push_back({static_cast<int>(i), series.name, readingWords(*reading),
                         CurveChart::tr("%1 watched").arg(countText(reading->watched)), false, reading->few});
    }

    const QFont small = theme::font(TextRole::Small);
    QFont medium = small;
    medium.setWeight(QFont::Medium);
    const QFontMetricsF metrics(medium);
    double nameWide = 0;
    double chanceWide = 0;
    double watchedWide = 0;
    for (const Line& line : lines) {
        nameWide = std::max(nameWide, metrics.horizontalAdvance(line.name));
        if (!line.beyond)
            chanceWide = std::max(chanceWide, figuresWidth(medium, line.chance));
        watchedWide = std::max(watchedWide, figuresWidth(small, line.watched));
    }
    nameWide = std::min(nameWide, 150.0);
    const double beyondWide = QFontMetricsF(small).horizontalAdvance(CurveChart::tr("not watched so far"));
    const double figuresWide = std::max(chanceWide + 14 + watchedWide, beyondWide);
    constexpr double kRow = 20;
    const double wide = 12 + 18 + 8 + nameWide + 14 + figuresWide + 12;
    const double high = 30 + static_cast<double>(lines.size()) * kRow + 6;
    double left = at + 12;
    if (left + wide > plot.right() + (table.right() - plot.right()))
        left = at - 12 - wide;
    left = std::max(left, table.left());
    // Where the curves leave room: low down while they are high.
    double top = plot.bottom() - high - 12;
    if (top < plot.top())
        top = plot.top();
    const QRectF box(left, top, wide, high);
    paint::box(painter, box, t.raised, t.outline);
    painter.setFont(theme::font(TextRole::Strong));
    painter.setPen(t.ink);
    drawFigures(painter, QRectF(box.left() + 12, box.top() + 6, wide - 24, 20),
                Qt::AlignLeft | Qt::AlignVCenter, distanceText(miles * toShown, view_.unit));
    double rowTop = box.top() + 30;
    for (const Line& line : lines) {
        const CurveSeries& series = data_.series[static_cast<std::size_t>(line.series)];
        if (line.series == view_.current) {
            paint::box(painter, QRectF(box.left() + 4, rowTop, wide - 8, kRow), t.accentSoft, QColor(), 4);
        }
        const double middle = std::round(rowTop + kRow / 2);
        paintLineSample(painter, QPointF(box.left() + 12, middle), QPointF(box.left() + 30, middle),
                        series.look, t.scheme);
        double cell = box.left() + 38;
        painter.setFont(medium);
        painter.setPen(t.ink);
        painter.drawText(QRectF(cell, rowTop, nameWide + 1, kRow), Qt::AlignVCenter,
                         metrics.elidedText(line.name, Qt::ElideRight, nameWide + 1));
        cell += nameWide + 14;
        if (line.beyond) {
            painter.setFont(small);
            painter.setPen(t.inkSoft);
            painter.drawText(QRectF(cell, rowTop, figuresWide + 1, kRow), Qt::AlignVCenter, line.chance);
        } else {
            painter.setPen(line.few ? t.inkSoft : t.ink);
            drawFigures(painter, QRectF(cell, rowTop, chanceWide + 1, kRow), Qt::AlignLeft | Qt::AlignVCenter,
                        line.chance);
            painter.setFont(small);
            painter.setPen(t.inkSoft);
            drawFigures(painter, QRectF(box.right() - 12 - watchedWide - 1, rowTop, watchedWide + 1, kRow),
                        Qt::AlignRight | Qt::AlignVCenter, line.watched);
        }
        rowTop += kRow;
    }
}

} // namespace milehold::ui
