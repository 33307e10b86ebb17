// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/bar_chart.h"

#include "ui/charts/axis.h"
#include "ui/theme/chart_palette.h"
#include "ui/theme/figures.h"
#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/words/two_lines.h"

#include <QLocale>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

namespace {

constexpr double kRow = 30;
constexpr double kKey = 26;
constexpr double kFoot = 44;

double sumOf(const BarRow& row) {
    double sum = 0;
    for (const BarPart& part : row.parts)
        sum += part.value;
    return sum;
}

/// Places of the key's entries, in as many lines as the width needs.
std::vector<QRectF> keyPlaces(const QStringList& names, const QFontMetricsF& metrics, const QRectF& rect) {
    std::vector<QRectF> places;
    double left = rect.left() + 4;
    double top = rect.top();
    for (const QString& name : names) {
        const double wide = metrics.horizontalAdvance(name) + 20;
        if (left > rect.left() + 4 && left + wide > rect.right()) {
            left = rect.left() + 4;
            top += kKey;
        }
        places.emplace_back(left, top, std::min(wide, rect.right() - left), kKey - 4);
        left += wide + 22;
    }
    return places;
}

double headOf(const BarData& data, const QFont& font, const QRectF& rect) {
    if (data.partNames.size() > 1)
        return keyPlaces(data.partNames, QFontMetricsF(font), rect).back().bottom() - rect.top() + 4;
    return data.mark && !data.markName.isEmpty() ? 20.0 : 4.0;
}

} // namespace

void BarChart::setData(BarData given) {
    data_ = std::move(given);
    dataChanged();
}

QSize BarChart::sizeHint() const {
    return {640, static_cast<int>(12 + headOf(data_, theme::font(TextRole::Small), QRectF(0, 0, 440, 100)) +
                                  kFoot + kRow * static_cast<double>(data_.rows.size()))};
}

QSize BarChart::minimumSizeHint() const {
    return {320, sizeHint().height()};
}

void BarChart::paintChart(QPainter& painter, const QRectF& rect, const Tokens& t, int current) const {
    const bool print = t.scheme == Scheme::Print;
    const QFont font = print ? theme::printFont(TextRole::Small) : theme::font(TextRole::Small);
    const QFontMetricsF metrics(font);
    painter.setFont(font);
    double name = 40;
    double figure = 0;
    double most = data_.mark.value_or(0);
    for (const BarRow& row : data_.rows) {
        name = std::max(name, metrics.horizontalAdvance(row.name) + (row.needsYou ? 22 : 0) + 2);
        figure = std::max(figure, figuresWidth(font, row.figure));
        most = std::max({most, sumOf(row), row.upper.value_or(0)});
    }
    if (data_.most)
        most = *data_.most;
    name = std::min(name, rect.width() * 0.36);
    const double top = rect.top() + headOf(data_, font, rect);
    const double bottom = top + kRow * static_cast<double>(data_.rows.size());
    const Axis x{0, most > 0 ? most : 1, rect.left() + name + 12, rect.right() - figure - 18, false};

    if (data_.partNames.size() > 1) {
        const std::vector<QRectF> places = keyPlaces(data_.partNames, metrics, rect);
        for (int i = 0; i < data_.partNames.size(); ++i) {
            const QRectF& place = places[static_cast<std::size_t>(i)];
            const SeriesLook look = seriesLook(i, t.scheme);
            const QColor fill = print ? mixed(t.paper, look.colour, 0.9 - 0.22 * i) : look.colour;
            paint::box(painter, QRectF(place.left(), place.center().y() - 6, 12, 12), fill, QColor(), 2);
            painter.setPen(t.ink);
            painter.drawText(place.adjusted(18, 0, 2, 0), Qt::AlignVCenter, data_.partNames[i]);
        }
    }
    const auto ticks = niceTicks(0, x.to, std::max(3, static_cast<int>((x.end - x.start) / 72)));
    for (const double tick : ticks) {
        const double at = std::round(x.at(tick));
        painter.setPen(QPen(tick == 0 ? t.outline : t.hairline, 1));
        painter.drawLine(QPointF(at, top), QPointF(at, bottom));
        painter.setPen(t.inkSoft);
        drawFigures(painter, QRectF(at - 40, bottom + 4, 80, 16), Qt::AlignHCenter | Qt::AlignVCenter,
                    data_.percent ? shareTickText(tick, ticks) : tickText(tick, ticks));
    }
    painter.drawText(QRectF(rect.left(), bottom + 22, x.end - rect.left(), 18),
                     Qt::AlignRight | Qt::AlignVCenter, data_.axisName);

    for (std::size_t i = 0; i < data_.rows.size(); ++i) {
        const BarRow& row = data_.rows[i];
        const QRectF line(rect.left(), top + kRow * static_cast<double>(i), rect.width(), kRow);
        if (static_cast<int>(i) == current)
            paint::box(painter, line, t.accentSoft, QColor(), 4);
        double nameLeft = rect.left() + 4;
        if (row.needsYou) {
            paintIcon(painter, QRectF(nameLeft, line.center().y() - 8, 16, 16), QStringLiteral("bell"),
                      t.amberText);
            nameLeft += 22;
        }
        painter.setPen(t.ink);
        const double room = rect.left() + name - nameLeft + 2;
        if (metrics.horizontalAdvance(row.name) <= room)
            painter.drawText(QRectF(nameLeft, line.top(), room, kRow), Qt::AlignVCenter, row.name);
        else
            drawTwoLines(
                painter,
                QRectF(nameLeft, line.center().y() - metrics.lineSpacing(), room, 2 * metrics.lineSpacing()),
                row.name);
        double from = 0;
        for (const BarPart& part : row.parts) {
            if (!(part.value > 0))
                continue;
            const double a = x.at(std::min(from, x.to));
            const double b = x.at(std::min(from + part.value, x.to));
            const SeriesLook look = seriesLook(part.look, t.scheme);
            const QColor fill = print ? mixed(t.paper, look.colour, 0.9 - 0.22 * part.look) : look.colour;
            painter.fillRect(QRectF(a, line.top() + 8, std::max(1.0, b - a), kRow - 16), fill);
            if (from > 0)
                painter.fillRect(QRectF(a - 0.5, line.top() + 8, 1, kRow - 16), t.surface);
            from += part.value;
        }
        if (row.lower || row.upper) {
            const double a = x.at(row.lower.value_or(0));
            const double b = std::min(x.at(row.upper.value_or(x.to)), x.end);
            const double y = std::round(line.center().y()) + 0.5;
            painter.setPen(QPen(t.surface, 4));
            painter.drawLine(QPointF(a, y), QPointF(b, y));
            painter.setPen(QPen(t.ink, 1.4));
            painter.drawLine(QPointF(a, y), QPointF(b, y));
            painter.drawLine(QPointF(a, y - 4), QPointF(a, y + 4));
            painter.drawLine(QPointF(b, y - 4), QPointF(b, y + 4));
        }
        painter.setPen(t.ink);
        drawFigures(painter, QRectF(x.end + 4, line.top(), rect.right() - x.end - 8, kRow),
                    Qt::AlignRight | Qt::AlignVCenter, row.figure);
    }
    if (data_.mark) {
        const double at = std::round(x.at(*data_.mark));
        QPen pen(t.ink, 1.3);
        pen.setDashPattern({4, 3});
        painter.setPen(pen);
        painter.drawLine(QPointF(at, top - 2), QPointF(at, bottom));
        if (data_.partNames.size() <= 1) {
            painter.setPen(t.inkSoft);
            const double wide = metrics.horizontalAdvance(data_.markName);
            const double left = std::clamp(at - wide / 2, rect.left(), rect.right() - wide - 2);
            painter.drawText(QRectF(left, rect.top(), wide + 2, 16), Qt::AlignVCenter, data_.markName);
        }
    }
}

int BarChart::markCount() const {
    return static_cast<int>(data_.rows.size());
}
QString BarChart::markId(int mark) const {
    return data_.rows[static_cast<std::size_t>(mark)].id;
}

QString BarChart::markText(int mark) const {
    const BarRow& row = data_.rows[static_cast<std::size_t>(mark)];
    return row.needsYou ? tr("%1: %2, needs you").arg(row.name, row.figure)
                        : tr("%1: %2").arg(row.name, row.figure);
}

int BarChart::markAt(const QPointF& at) const {
    const double row =
        (at.y() - contentRect().top() - headOf(data_, theme::font(TextRole::Small), contentRect())) / kRow;
    return row < 0 || row >= static_cast<double>(data_.rows.size()) ? -1 : static_cast<int>(row);
}

ChartTable BarChart::asTable() const {
    ChartTable table;
    table.header << tr("Name");
    for (const QString& part : data_.partNames)
        table.header << part;
    table.header << (data_.axisName.isEmpty() ? tr("Value") : data_.axisName);
    for (const BarRow& row : data_.rows) {
        QStringList cells{row.name};
        for (int look = 0; look < data_.partNames.size(); ++look) {
            double value = 0;
            for (const BarPart& part : row.parts) {
                if (part.look == look)
                    value += part.value;
            }
            cells << QLocale().toString(value, 'g', 6);
        }
        cells << row.figure;
        table.rows << cells;
    }
    return table;
}

} // namespace milehold::ui
