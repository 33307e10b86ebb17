// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/small_curves.h"

#include "ui/charts/axis.h"
#include "ui/charts/curve_words.h"
#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <algorithm>
#include <cmath>

namespace milehold::ui {

namespace {

constexpr double kCellWidth = 208;
constexpr double kCellHeight = 132;
constexpr double kGapBetween = 16;

int columnsIn(double width) {
    return std::max(1, static_cast<int>((width + kGapBetween) / (kCellWidth + kGapBetween)));
}

/// The steps of a series from one mileage to another, as a line on the axes.
QPolygonF stepsOf(const CurveSeries& series, double from, double to, const Axis& x, const Axis& y) {
    QPolygonF line;
    const auto start = readAt(series, from, 0);
    if (!start || to <= from)
        return line;
    line << QPointF(x.at(from), y.at(start->survival));
    for (std::size_t i = 0; i < series.miles.size(); ++i) {
        if (series.miles[i] <= from || series.miles[i] > to || !std::isfinite(series.survival[i]))
            continue;
        const double at = x.at(series.miles[i]);
        // Steps closer than the eye can tell are one: a million of them must not become a million lines.
        if (at - line.back().x() < 0.25 && series.miles[i] < to)
            continue;
        line << QPointF(at, line.back().y()) << QPointF(at, y.at(series.survival[i]));
    }
    line << QPointF(x.at(to), line.back().y());
    return line;
}

} // namespace

SmallCurves::SmallCurves(QWidget* parent) : PaintedChart(parent) {
    QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Preferred);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
}

void SmallCurves::setData(SmallCurvesData given) {
    data_ = std::move(given);
    dataChanged();
}

int SmallCurves::heightForWidth(int width) const {
    const int columns = columnsIn(width - 16);
    const int rows = (markCount() + columns - 1) / columns;
    return static_cast<int>(std::max(1, rows) * (kCellHeight + kGapBetween) - kGapBetween) + 12;
}

QSize SmallCurves::minimumSizeHint() const {
    return {static_cast<int>(kCellWidth) + 16, static_cast<int>(kCellHeight) + 12};
}

QRectF SmallCurves::cellOf(int mark, const QRectF& rect) const {
    const int columns = columnsIn(rect.width());
    const double wide = (rect.width() - (columns - 1) * kGapBetween) / columns;
    return {rect.left() + (mark % columns) * (wide + kGapBetween),
            rect.top() + std::floor(mark / columns) * (kCellHeight + kGapBetween), wide, kCellHeight};
}

QString SmallCurves::figure(const CurveSeries& series) const {
    if (data_.horizon <= 0)
        return {};
    const auto reading = readAt(series, data_.horizon, data_.fewerThan);
    if (!reading)
        return tr("not watched so far");
    if (reading->few)
        return tr("too few watched");
    return shareText(reading->survival);
}

void SmallCurves::paintChart(QPainter& painter, const QRectF& rect, const Tokens& t, int current) const {
    const bool print = t.scheme == Scheme::Print;
    const QFont small = print ? theme::printFont(TextRole::Small) : theme::font(TextRole::Small);
    QFont medium = small;
    medium.setWeight(QFont::DemiBold);
    double longest = data_.all ? data_.all->longestWatched : 0;
    for (const CurveSeries& series : data_.series)
        longest = std::max(longest, series.longestWatched);
    if (longest <= 0)
        longest = 1;
    for (int i = 0; i < markCount(); ++i) {
        const CurveSeries& series = data_.series[static_cast<std::size_t>(i)];
        const QRectF cell = cellOf(i, rect);
        if (i == current)
            paint::box(painter, cell.adjusted(-6, -2, 6, 2), t.accentSoft, QColor(), 4);
        painter.setFont(small);
        const QString chance = figure(series);
        const double chanceWide = figuresWidth(small, chance);
        painter.setPen(t.ink);
        drawFigures(painter, QRectF(cell.left(), cell.top(), cell.width(), 18),
                    Qt::AlignRight | Qt::AlignVCenter, chance);
        painter.setFont(medium);
        const double room = cell.width() - chanceWide - 10;
        painter.drawText(QRectF(cell.left(), cell.top(), room, 18), Qt::AlignVCenter,
                         QFontMetricsF(medium).elidedText(series.name, Qt::ElideRight, room));
        painter.setFont(small);
        painter.setPen(t.inkSoft);
        painter.drawText(QRectF(cell.left(), cell.bottom() - 17, cell.width(), 17),
                         Qt::AlignLeft | Qt::AlignVCenter, shortKeyWords(series));
        if (i == 0) {
            painter.drawText(QRectF(cell.left(), cell.bottom() - 17, cell.width(), 17),
                             Qt::AlignRight | Qt::AlignVCenter,
                             data_.horizon > 0 ? tr("at %1").arg(distanceText(data_.horizon, data_.unit))
                                               : distanceText(longest, data_.unit));
        }
        const QRectF plot = cell.adjusted(0, 24, 0, -22);
        const Axis x{0, longest, plot.left(), plot.right(), false};
        const Axis y{0, 1, plot.bottom(), plot.top(), false};
        for (const double level : {0.0, 0.5, 1.0}) {
            painter.setPen(QPen(level == 0 ? t.outline : t.hairline, 1));
            const double at = std::round(y.at(level));
            painter.drawLine(QPointF(plot.left(), at), QPointF(plot.right(), at));
        }
        if (data_.horizon > 0 && data_.horizon <= longest) {
            QPen pen(t.inkSoft, 1);
            pen.setDashPattern({3, 3});
            painter.setPen(pen);
            const double at = std::round(x.at(data_.horizon));
            painter.drawLine(QPointF(at, plot.top()), QPointF(at, plot.bottom()));
        }
        painter.setBrush(Qt::NoBrush);
        if (data_.all) {
            painter.setPen(QPen(mixed(t.surface, t.ink, 0.35), 1.2));
            painter.drawPolyline(stepsOf(*data_.all, 0, data_.all->longestWatched, x, y));
        }
        const double faint = faintFrom(series, data_.fewerThan);
        painter.setPen(QPen(t.accentText, 1.8, Qt::SolidLine, Qt::FlatCap, Qt::MiterJoin));
        painter.drawPolyline(stepsOf(series, 0, faint, x, y));
        painter.setPen(
            QPen(mixed(t.surface, t.accentText, 0.45), 1.8, Qt::SolidLine, Qt::FlatCap, Qt::MiterJoin));
        painter.drawPolyline(stepsOf(series, faint, series.longestWatched, x, y));
    }
}

int SmallCurves::markCount() const {
    return static_cast<int>(data_.series.size());
}

QString SmallCurves::markId(int mark) const {
    return data_.series[static_cast<std::size_t>(mark)].id;
}

QString SmallCurves::markText(int mark) const {
    const CurveSeries& series = data_.series[static_cast<std::size_t>(mark)];
    QString text = series.name + QStringLiteral(": ") + shortKeyWords(series);
    if (data_.horizon > 0)
        text += tr(", at %1: %2").arg(distanceText(data_.horizon, data_.unit), figure(series));
    return text;
}

int SmallCurves::markAt(const QPointF& at) const {
    for (int i = 0; i < markCount(); ++i) {
        if (cellOf(i, contentRect()).contains(at))
            return i;
    }
    return -1;
}

ChartTable SmallCurves::asTable() const {
    std::vector<double> marks;
    if (data_.horizon > 0)
        marks.push_back(data_.horizon);
    CurveData curves;
    curves.series = data_.series;
    curves.unit = data_.unit;
    return curveTable(curves, marks, data_.unit);
}

} // namespace milehold::ui
