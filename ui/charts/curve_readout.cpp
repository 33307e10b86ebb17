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
#include <vector>

namespace milehold::ui {

namespace {

constexpr double kRow = 20;

/// What the box says of one series.
struct ReadoutLine {
    int series;
    QString name, chance, watched;
    bool beyond, few;
};

struct ReadoutFonts {
    QFont small = theme::font(TextRole::Small);
    QFont medium = [] {
        QFont font = theme::font(TextRole::Small);
        font.setWeight(QFont::Medium);
        return font;
    }();
};

/// The columns of the box.
struct ReadoutWidths {
    double name = 0, chance = 0, watched = 0;
    double figures = 0; ///< chance and watched, or the words in their place
    double box() const { return 12 + 18 + 8 + name + 14 + figures + 12; }
};

ReadoutWidths widthsOf(const std::vector<ReadoutLine>& lines, const ReadoutFonts& fonts) {
    const QFontMetricsF metrics(fonts.medium);
    ReadoutWidths wide;
    for (const ReadoutLine& line : lines) {
        wide.name = std::max(wide.name, metrics.horizontalAdvance(line.name));
        if (!line.beyond)
            wide.chance = std::max(wide.chance, figuresWidth(fonts.medium, line.chance));
        wide.watched = std::max(wide.watched, figuresWidth(fonts.small, line.watched));
    }
    wide.name = std::min(wide.name, 150.0);
    wide.figures =
        std::max(wide.chance + 14 + wide.watched,
                 QFontMetricsF(fonts.small).horizontalAdvance(CurveChart::tr("not watched so far")));
    return wide;
}

/// One row of the box: `row` is as wide as the box.
void paintLine(QPainter& painter, const ReadoutLine& line, int look, const QRectF& row,
               const ReadoutWidths& wide, const ReadoutFonts& fonts, const Tokens& t) {
    const double middle = std::round(row.center().y());
    paintLineSample(painter, QPointF(row.left() + 12, middle), QPointF(row.left() + 30, middle), look,
                    t.scheme);
    double cell = row.left() + 38;
    painter.setFont(fonts.medium);
    painter.setPen(t.ink);
    painter.drawText(QRectF(cell, row.top(), wide.name + 1, kRow), Qt::AlignVCenter,
                     QFontMetricsF(fonts.medium).elidedText(line.name, Qt::ElideRight, wide.name + 1));
    cell += wide.name + 14;
    if (line.beyond) {
        painter.setFont(fonts.small);
        painter.setPen(t.inkSoft);
        painter.drawText(QRectF(cell, row.top(), wide.figures + 1, kRow), Qt::AlignVCenter, line.chance);
        return;
    }
    painter.setPen(line.few ? t.inkSoft : t.ink);
    drawFigures(painter, QRectF(cell, row.top(), wide.chance + 1, kRow), Qt::AlignLeft | Qt::AlignVCenter,
                line.chance);
    painter.setFont(fonts.small);
    painter.setPen(t.inkSoft);
    drawFigures(painter, QRectF(row.right() - 12 - wide.watched - 1, row.top(), wide.watched + 1, kRow),
                Qt::AlignRight | Qt::AlignVCenter, line.watched);
}

} // namespace

void CurveFrame::paintReadout(QPainter& painter, const Tokens& t) const {
    if (!view_.readout || data_.series.empty())
        return;
    const paint::Scope scope(painter);
    const double miles = *view_.readout;
    const double at = std::round(x.at(miles));
    painter.setPen(QPen(t.inkSoft, 1));
    painter.drawLine(QPointF(at, plot.top()), QPointF(at, plot.bottom()));

    std::vector<ReadoutLine> lines;
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

    const ReadoutFonts fonts;
    const ReadoutWidths wide = widthsOf(lines, fonts);
    const double high = 30 + static_cast<double>(lines.size()) * kRow + 6;
    double left = at + 12;
    if (left + wide.box() > table.right())
        left = at - 12 - wide.box();
    left = std::max(left, table.left());
    // Where the curves leave room: low down while they are high.
    const double top = std::max(plot.top(), plot.bottom() - high - 12);
    const QRectF box(left, top, wide.box(), high);
    paint::box(painter, box, t.raised, t.outline);
    painter.setFont(theme::font(TextRole::Strong));
    painter.setPen(t.ink);
    drawFigures(painter, QRectF(box.left() + 12, box.top() + 6, box.width() - 24, 20),
                Qt::AlignLeft | Qt::AlignVCenter, distanceText(miles * toShown, view_.unit));
    QRectF row(box.left(), box.top() + 30, box.width(), kRow);
    for (const ReadoutLine& line : lines) {
        if (line.series == view_.current)
            paint::box(painter, row.adjusted(4, 0, -4, 0), t.accentSoft, QColor(), 4);
        paintLine(painter, line, data_.series[static_cast<std::size_t>(line.series)].look, row, wide, fonts,
                  t);
        row.translate(0, kRow);
    }
}

} // namespace milehold::ui
