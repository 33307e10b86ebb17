// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/watch_chart.h"

#include "ui/charts/axis.h"
#include "ui/charts/value_axis.h"
#include "ui/theme/chart_palette.h"
#include "ui/theme/figures.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QLineF>
#include <QLocale>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace milehold::ui {

namespace {

struct WatchFrame {
    QRectF plot;
    Axis x, y; ///< x in Julian days
};

WatchFrame watchFrame(const WatchData& data, const QRectF& rect) {
    double first = 0;
    double last = 1;
    double most = 1.2;
    bool any = false;
    for (const WatchLine& line : data.lines) {
        if (line.day.empty())
            continue;
        const double from = static_cast<double>(line.from.toJulianDay());
        first = any ? std::min(first, from) : from;
        last = any ? std::max(last, from + line.day.back()) : from + line.day.back();
        any = true;
        most = std::max(most, *std::max_element(line.share.begin(), line.share.end()) * 1.05);
    }
    WatchFrame f;
    f.plot = rect.adjusted(52, 26, -132, -28);
    f.x = {first, std::max(last, first + 1), f.plot.left(), f.plot.right(), false};
    f.y = {0, most, f.plot.bottom(), f.plot.top(), false};
    return f;
}

QPolygonF polygonOf(const WatchLine& line, const WatchFrame& f) {
    QPolygonF points;
    const double from = static_cast<double>(line.from.toJulianDay());
    for (std::size_t i = 0; i < line.day.size(); ++i)
        points << QPointF(f.x.at(from + line.day[i]), f.y.at(line.share[i]));
    return points;
}

/// A word a year, where a year begins.
void paintYears(QPainter& painter, const WatchFrame& f, const Tokens& t) {
    const QDate first = QDate::fromJulianDay(static_cast<qint64>(f.x.from));
    const QDate last = QDate::fromJulianDay(static_cast<qint64>(f.x.to));
    for (int year = first.year() + 1; year <= last.year(); ++year) {
        const double at = f.x.at(static_cast<double>(QDate(year, 1, 1).toJulianDay()));
        painter.setPen(QPen(t.hairline, 1));
        painter.drawLine(QPointF(at, f.plot.top()), QPointF(at, f.plot.bottom()));
        painter.setPen(t.inkSoft);
        drawFigures(painter, QRectF(at - 30, f.plot.bottom() + 6, 60, 18),
                    Qt::AlignHCenter | Qt::AlignVCenter, QString::number(year));
    }
}

void paintLimit(QPainter& painter, const WatchFrame& f, const QString& name, const Tokens& t) {
    QPen limit(t.ink, 1.5);
    limit.setDashPattern({6, 4});
    painter.setPen(limit);
    const double at = std::round(f.y.at(1));
    painter.drawLine(QPointF(f.plot.left(), at), QPointF(f.plot.right(), at));
    painter.setPen(t.ink);
    painter.drawText(QRectF(f.plot.left() + 6, at - 18, 300, 16), Qt::AlignLeft | Qt::AlignVCenter, name);
}

/// The lines' numbers by where they end.
std::vector<int> highestFirst(const WatchData& data) {
    std::vector<int> order(data.lines.size());
    std::iota(order.begin(), order.end(), 0);
    const auto value = [&](int i) {
        const auto& share = data.lines[static_cast<std::size_t>(i)].share;
        return share.empty() ? 0.0 : share.back();
    };
    std::sort(order.begin(), order.end(), [&](int a, int b) { return value(a) > value(b); });
    return order;
}

} // namespace

void WatchChart::setData(WatchData given) {
    data_ = std::move(given);
    dataChanged();
}

void WatchChart::paintChart(QPainter& painter, const QRectF& rect, const Tokens& t, int current) const {
    const WatchFrame f = watchFrame(data_, rect);
    const QFont font =
        t.scheme == Scheme::Print ? theme::printFont(TextRole::Small) : theme::font(TextRole::Small);
    painter.setFont(font);
    paintValueAxis(painter, rect, f.plot, f.y, data_.valueName, true, t);
    paintYears(painter, f, t);
    paintLimit(painter, f, data_.limitName, t);

    double free = f.plot.top() - 20; // labels do not lie on each other
    for (const int i : highestFirst(data_)) {
        const WatchLine& line = data_.lines[static_cast<std::size_t>(i)];
        if (line.day.empty())
            continue;
        const SeriesLook look = seriesLook(i, t.scheme);
        QPen pen(look.colour, i == current ? 3 : 2, Qt::SolidLine, Qt::FlatCap, Qt::MiterJoin);
        if (!look.dash.isEmpty())
            pen.setDashPattern(look.dash);
        painter.setPen(pen);
        const QPolygonF points = polygonOf(line, f);
        painter.drawPolyline(points);
        const double at = std::max(free + 17, points.back().y());
        if (at > f.plot.bottom() + 8)
            continue; // no room: pointing at the line names it
        free = at;
        QFont nameFont = font;
        if (line.warns || i == current)
            nameFont.setWeight(QFont::DemiBold);
        painter.setPen(t.scheme == Scheme::Print ? t.ink : look.colour);
        painter.setFont(nameFont);
        const double room = rect.right() - f.plot.right() - 8;
        painter.drawText(
            QRectF(f.plot.right() + 8, at - 9, room, 18), Qt::AlignVCenter,
            painter.fontMetrics().elidedText(line.warns ? line.name + QStringLiteral(" !") : line.name,
                                             Qt::ElideRight, static_cast<int>(room)));
        painter.setFont(font);
    }
}

int WatchChart::markCount() const {
    return static_cast<int>(data_.lines.size());
}

QString WatchChart::markId(int mark) const {
    return data_.lines[static_cast<std::size_t>(mark)].id;
}

QString WatchChart::markText(int mark) const {
    return data_.lines[static_cast<std::size_t>(mark)].spoken;
}

int WatchChart::markAt(const QPointF& at) const {
    const WatchFrame f = watchFrame(data_, contentRect());
    int nearest = -1;
    double least = 12;
    for (int i = 0; i < markCount(); ++i) {
        const QPolygonF points = polygonOf(data_.lines[static_cast<std::size_t>(i)], f);
        for (const QPointF& point : points) {
            const double away = QLineF(point, at).length();
            if (away < least) {
                least = away;
                nearest = i;
            }
        }
    }
    return nearest;
}

ChartTable WatchChart::asTable() const {
    ChartTable table;
    table.header << tr("Name") << tr("Share of its limit") << tr("Past its limit");
    for (const WatchLine& line : data_.lines)
        table.rows << QStringList{line.name, line.share.empty() ? QString() : shareText(line.share.back()),
                                  line.warns ? tr("yes") : tr("no")};
    return table;
}

} // namespace milehold::ui
