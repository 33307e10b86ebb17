// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/funnel_chart.h"

#include "ui/charts/axis.h"
#include "ui/charts/value_axis.h"
#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QLocale>
#include <QPainter>

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

/// One painting of a chart, part by part.
class FunnelPainter {
public:
    FunnelPainter(QPainter& painter, const QRectF& rect, const Tokens& t, const FunnelData& data)
        : painter_(painter), rect_(rect), t_(t), data_(data), f_(frameOf(data, rect)),
          font_(t.scheme == Scheme::Print ? theme::printFont(TextRole::Small)
                                          : theme::font(TextRole::Small)) {
        painter_.setFont(font_);
    }
    void axes();
    void limits();
    void lineNames();
    void point(const FunnelPoint& point, bool current);

private:
    void nameLine(double value, const QString& name);
    void namePoint(const QString& name, const QPointF& at);

    QPainter& painter_;
    const QRectF& rect_;
    const Tokens& t_;
    const FunnelData& data_;
    const Frame f_;
    const QFont font_;
};

void FunnelPainter::axes() {
    paintValueAxis(painter_, rect_, f_.plot, f_.y, data_.valueName, data_.percent, t_);
    const auto ticks = niceTicks(0, f_.x.to, std::max(2, static_cast<int>(f_.plot.width() / 80)));
    for (const double tick : ticks)
        drawFigures(painter_, QRectF(f_.x.at(tick) - 40, f_.plot.bottom() + 5, 80, 18),
                    Qt::AlignHCenter | Qt::AlignVCenter, tickText(tick, ticks));
    painter_.drawText(QRectF(f_.plot.left(), f_.plot.bottom() + 24, f_.plot.width(), 18),
                      Qt::AlignRight | Qt::AlignVCenter, data_.sizeName);
}

/// The inner limits full, the outer ones dashed.
void FunnelPainter::limits() {
    const paint::Scope scope(painter_);
    painter_.setClipRect(f_.plot.adjusted(0, -1, 0, 1));
    for (std::size_t k = 0; k < data_.limits.size(); ++k) {
        const FunnelLimit& limit = data_.limits[k];
        QPen pen(t_.outline, 1.3);
        if (k > 0)
            pen.setDashPattern({5, 4});
        painter_.setPen(pen);
        for (const auto& side : {limit.lower, limit.upper}) {
            QPolygonF line;
            for (std::size_t i = 0; i < limit.size.size() && i < side.size(); ++i) {
                if (std::isfinite(side[i]))
                    line << QPointF(f_.x.at(limit.size[i]), f_.y.at(side[i]));
            }
            painter_.drawPolyline(line);
        }
    }
}

/// The names of limits and centre at their right ends, and the centre's line.
void FunnelPainter::lineNames() {
    for (const FunnelLimit& limit : data_.limits) {
        if (limit.upper.empty())
            continue;
        nameLine(limit.upper.back(), limit.name);
        if (limit.lower.back() > 0.02 * f_.y.to)
            nameLine(limit.lower.back(), limit.name);
    }
    painter_.setPen(QPen(t_.inkSoft, 1.3));
    const double centre = std::round(f_.y.at(data_.centre));
    painter_.drawLine(QPointF(f_.plot.left(), centre), QPointF(f_.plot.right(), centre));
    nameLine(data_.centre, data_.centreName);
}

void FunnelPainter::nameLine(double value, const QString& name) {
    const double at = f_.y.at(value);
    if (at < f_.plot.top() - 2 || at > f_.plot.bottom() + 2)
        return;
    painter_.setPen(t_.inkSoft);
    painter_.drawText(QRectF(f_.plot.right() + 6, at - 8, rect_.right() - f_.plot.right() - 6, 16),
                      Qt::AlignVCenter, name);
}

void FunnelPainter::point(const FunnelPoint& point, bool current) {
    const QPointF at(f_.x.at(point.size), f_.y.at(std::min(point.value, f_.y.to)));
    painter_.setPen(QPen(t_.surface, 1.5));
    painter_.setBrush(point.outside ? t_.dangerText : t_.accentText);
    const double r = current ? 7 : 5;
    if (point.outside) {
        // Another shape too: colour alone says nothing on paper.
        painter_.drawPolygon(QPolygonF({at + QPointF(0, -r - 2), at + QPointF(r + 2, 0),
                                        at + QPointF(0, r + 2), at + QPointF(-r - 2, 0)}));
    } else {
        painter_.drawEllipse(at, r, r);
    }
    painter_.setBrush(Qt::NoBrush);
    if (current || point.outside)
        namePoint(point.name, at);
}

void FunnelPainter::namePoint(const QString& name, const QPointF& at) {
    QFont medium = font_;
    medium.setWeight(QFont::Medium);
    painter_.setFont(medium);
    painter_.setPen(t_.ink);
    const double wide = QFontMetricsF(medium).horizontalAdvance(name);
    const bool left = at.x() + 12 + wide > f_.plot.right() + 56;
    painter_.drawText(QRectF(left ? at.x() - 12 - wide : at.x() + 12, at.y() - 9, wide + 2, 18),
                      Qt::AlignVCenter, name);
    painter_.setFont(font_);
}

} // namespace

void FunnelChart::setData(FunnelData given) {
    data_ = std::move(given);
    dataChanged();
}

void FunnelChart::paintChart(QPainter& painter, const QRectF& rect, const Tokens& t, int current) const {
    FunnelPainter chart(painter, rect, t, data_);
    chart.axes();
    chart.limits();
    chart.lineNames();
    for (std::size_t i = 0; i < data_.points.size(); ++i)
        chart.point(data_.points[i], static_cast<int>(i) == current);
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
