// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/funnel_chart.h"

#include "ui/charts/axis.h"
#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QLocale>

#include <algorithm>
#include <cmath>

namespace milehold::ui {

namespace {

struct Frame {
    QRectF plot;
    Axis x, y;
};

Frame frameOf(const FunnelData& data, const QRectF& rect) {
    double size = 0;
    double value = data.centre;
    for (const FunnelPoint& point : data.points) {
        size = std::max(size, point.size);
        value = std::max(value, point.value);
    }
    // The limits run off the top where little is known; only what lies under the points' own height is of
    // use.
    for (const FunnelLimit& limit : data.limits) {
        for (std::size_t i = 0; i < limit.size.size() && i < limit.upper.size(); ++i) {
            if (limit.size[i] >= size * 0.15)
                value = std::max(value, limit.upper[i]);
        }
    }
    if (data.percent)
        value = std::min(1.0, value);
    Frame f;
    f.plot = rect.adjusted(48, 26, -64, -42);
    f.x = {0, size > 0 ? size * 1.06 : 1, f.plot.left(), f.plot.right(), false};
    f.y = {0, value > 0 ? value * 1.08 : 1, f.plot.bottom(), f.plot.top(), false};
    return f;
}

QString valueText(double value, const FunnelData& data) {
    return data.percent ? shareText(value) : QLocale().toString(value, 'g', 3);
}

} // namespace

void FunnelChart::setData(FunnelData given) {
    data_ = std::move(given);
    dataChanged();
}

void FunnelChart::paintChart(QPainter& painter, const QRectF& rect, const Tokens& t, int current) const {
    const Frame f = frameOf(data_, rect);
    const bool print = t.scheme == Scheme::Print;
    const QFont font = print ? theme::printFont(TextRole::Small) : theme::font(TextRole::Small);
    painter.setFont(font);
    painter.setPen(t.inkSoft);
    painter.drawText(QRectF(rect.left(), rect.top(), rect.width(), 20), Qt::AlignLeft | Qt::AlignVCenter,
                     data_.valueName);
    const auto ys = niceTicks(0, f.y.to, std::max(2, static_cast<int>(f.plot.height() / 48)));
    for (const double tick : ys) {
        const double at = std::round(f.y.at(tick));
        painter.setPen(QPen(tick == 0 ? t.outline : t.hairline, 1));
        painter.drawLine(QPointF(f.plot.left(), at), QPointF(f.plot.right(), at));
        painter.setPen(t.inkSoft);
        drawFigures(painter, QRectF(rect.left(), at - 9, f.plot.left() - rect.left() - 8, 18),
                    Qt::AlignRight | Qt::AlignVCenter,
                    data_.percent ? shareTickText(tick, ys) : tickText(tick, ys));
    }
    const auto xs = niceTicks(0, f.x.to, std::max(2, static_cast<int>(f.plot.width() / 80)));
    for (const double tick : xs) {
        drawFigures(painter, QRectF(f.x.at(tick) - 40, f.plot.bottom() + 5, 80, 18),
                    Qt::AlignHCenter | Qt::AlignVCenter, tickText(tick, xs));
    }
    painter.drawText(QRectF(f.plot.left(), f.plot.bottom() + 24, f.plot.width(), 18),
                     Qt::AlignRight | Qt::AlignVCenter, data_.sizeName);

    // Limits, the inner ones full, the outer ones dashed, named at their right end.
    painter.save();
    painter.setClipRect(f.plot.adjusted(0, -1, 0, 1));
    for (std::size_t k = 0; k < data_.limits.size(); ++k) {
        const FunnelLimit& limit = data_.limits[k];
        QPen pen(t.outline, 1.3);
        if (k > 0)
            pen.setDashPattern({5, 4});
        painter.setPen(pen);
        for (const auto& side : {limit.lower, limit.upper}) {
            QPolygonF line;
            for (std::size_t i = 0; i < limit.size.size() && i < side.size(); ++i) {
                if (std::isfinite(side[i]))
                    line << QPointF(f.x.at(limit.size[i]), f.y.at(side[i]));
            }
            painter.drawPolyline(line);
        }
    }
    painter.restore();
    const auto nameLine = [&](double value, const QString& name) {
        const double at = f.y.at(value);
        if (at < f.plot.top() - 2 || at > f.plot.bottom() + 2)
            return;
        painter.setPen(t.inkSoft);
        painter.drawText(QRectF(f.plot.right() + 6, at - 8, rect.right() - f.plot.right() - 6, 16),
                         Qt::AlignVCenter, name);
    };
    for (const FunnelLimit& limit : data_.limits) {
        if (limit.upper.empty())
            continue;
        nameLine(limit.upper.back(), limit.name);
        if (limit.lower.back() > 0.02 * f.y.to)
            nameLine(limit.lower.back(), limit.name);
    }
    painter.setPen(QPen(t.inkSoft, 1.3));
    const double centre = std::round(f.y.at(data_.centre));
    painter.drawLine(QPointF(f.plot.left(), centre), QPointF(f.plot.right(), centre));
    nameLine(data_.centre, data_.centreName);

    for (std::size_t i = 0; i < data_.points.size(); ++i) {
        const FunnelPoint& point = data_.points[i];
        const QPointF at(f.x.at(point.size), f.y.at(std::min(point.value, f.y.to)));
        const bool here = static_cast<int>(i) == current;
        painter.setPen(QPen(t.surface, 1.5));
        painter.setBrush(point.outside ? t.dangerText : t.accentText);
        const double r = here ? 7 : 5;
        if (point.outside) {
            // Another shape too: colour alone says nothing on paper.
            painter.drawPolygon(QPolygonF({at + QPointF(0, -r - 2), at + QPointF(r + 2, 0),
                                           at + QPointF(0, r + 2), at + QPointF(-r - 2, 0)}));
        } else {
            painter.drawEllipse(at, r, r);
        }
        painter.setBrush(Qt::NoBrush);
        if (here || point.outside) {
            QFont medium = font;
            medium.setWeight(QFont::Medium);
            painter.setFont(medium);
            painter.setPen(t.ink);
            const double wide = QFontMetricsF(medium).horizontalAdvance(point.name);
            const bool left = at.x() + 12 + wide > f.plot.right() + 56;
            painter.drawText(QRectF(left ? at.x() - 12 - wide : at.x() + 12, at.y() - 9, wide + 2, 18),
                             Qt::AlignVCenter, point.name);
            painter.setFont(font);
        }
    }
}

int FunnelChart::markCount() const {
    return static_cast<int>(data_.points.size());
}
QString FunnelChart::markId(int mark) const {
    return data_.points[static_cast<std::size_t>(mark)].id;
}

QString FunnelChart::markText(int mark) const {
    const FunnelPoint& point = data_.points[static_cast<std::size_t>(mark)];
    const QString text = point.outside ? tr("%1: %2 of %3, outside the limits") : tr("%1: %2 of %3");
    return text.arg(point.name, valueText(point.value, data_), countText(point.size));
}

int FunnelChart::markAt(const QPointF& at) const {
    const Frame f = frameOf(data_, contentRect());
    int nearest = -1;
    double least = 12 * 12;
    for (std::size_t i = 0; i < data_.points.size(); ++i) {
        const QPointF away(f.x.at(data_.points[i].size) - at.x(),
                           f.y.at(std::min(data_.points[i].value, f.y.to)) - at.y());
        const double square = QPointF::dotProduct(away, away);
        if (square < least) {
            least = square;
            nearest = static_cast<int>(i);
        }
    }
    return nearest;
}

ChartTable FunnelChart::asTable() const {
    ChartTable table;
    table.header << tr("Name") << data_.sizeName << data_.valueName << tr("Outside the limits");
    for (const FunnelPoint& point : data_.points) {
        table.rows << QStringList{point.name, countText(point.size), valueText(point.value, data_),
                                  point.outside ? tr("yes") : tr("no")};
    }
    return table;
}

} // namespace milehold::ui
