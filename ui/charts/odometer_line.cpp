// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/odometer_line.h"

#include "ui/theme/figures.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/status.h"
#include "ui/widgets/text.h"

#include <algorithm>

namespace milehold::ui {

void OdometerLine::setReadings(std::vector<OdometerReading> readings, core::DistanceUnit unit) {
    readings_ = std::move(readings);
    unit_ = unit;
    dataChanged();
}

QRectF OdometerLine::plotRect(const QRectF& rect) const {
    return rect.adjusted(8, 22, -8, -20);
}

QPointF OdometerLine::place(std::size_t reading, const QRectF& rect) const {
    const QRectF plot = plotRect(rect);
    const QDate first = toQDate(readings_.front().date);
    const auto span = std::max<qint64>(1, first.daysTo(toQDate(readings_.back().date)));
    std::int64_t least = readings_.front().odometer.metres();
    std::int64_t most = least;
    for (const OdometerReading& one : readings_) {
        least = std::min(least, one.odometer.metres());
        most = std::max(most, one.odometer.metres());
    }
    const auto& one = readings_[reading];
    const double x = static_cast<double>(first.daysTo(toQDate(one.date))) / static_cast<double>(span);
    const double range = static_cast<double>(std::max<std::int64_t>(1, most - least));
    const double y = static_cast<double>(one.odometer.metres() - least) / range;
    if (readings_.size() == 1)
        return plot.center();
    return {plot.left() + x * plot.width(), plot.bottom() - y * plot.height()};
}

void OdometerLine::paintChart(QPainter& painter, const QRectF& rect, const Tokens& t, int current) const {
    const QFont font =
        t.scheme == Scheme::Print ? theme::printFont(TextRole::Small) : theme::font(TextRole::Small);
    painter.setFont(font);
    painter.setPen(QPen(t.inkSoft, 1.5));
    for (std::size_t i = 1; i < readings_.size(); ++i) {
        if (!readings_[i].resetBefore)
            painter.drawLine(place(i - 1, rect), place(i, rect));
    }
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        const QPointF at = place(i, rect);
        const bool here = static_cast<int>(i) == current;
        double r = here ? 7 : 5;
        StatusShape shape = StatusShape::Disc;
        QColor colour = t.inkSoft;
        switch (readings_[i].mark) {
        case ReadingMark::Repair:
            shape = StatusShape::Diamond;
            colour = t.accentText;
            r += 1.5;
            break;
        case ReadingMark::Quiet:
            colour = t.accentText;
            break;
        case ReadingMark::NoiseBack:
            shape = StatusShape::Triangle;
            colour = t.dangerText;
            r += 1;
            break;
        case ReadingMark::Plain:
            r = here ? 5 : 3.5;
            break;
        }
        paint::box(painter, QRectF(at.x() - r - 1, at.y() - r - 1, 2 * r + 2, 2 * r + 2), t.surface, QColor(),
                   r);
        paintStatusShape(painter, QRectF(at.x() - r, at.y() - r, 2 * r, 2 * r), shape, colour);
    }
    painter.setPen(t.inkSoft);
    const OdometerReading& last = readings_.back();
    drawFigures(painter, QRectF(rect.left(), rect.top(), rect.width() - 8, 18),
                Qt::AlignRight | Qt::AlignVCenter,
                current >= 0 ? markText(current) : distanceText(last.odometer, unit_));
    const QString from = dateText(readings_.front().date);
    painter.drawText(QRectF(rect.left() + 8, rect.bottom() - 18, rect.width(), 18),
                     Qt::AlignLeft | Qt::AlignVCenter, from);
    if (readings_.size() > 1) {
        painter.drawText(QRectF(rect.left(), rect.bottom() - 18, rect.width() - 8, 18),
                         Qt::AlignRight | Qt::AlignVCenter, dateText(last.date));
    }
}

int OdometerLine::markCount() const {
    return static_cast<int>(readings_.size());
}
QString OdometerLine::markId(int mark) const {
    return readings_[static_cast<std::size_t>(mark)].id;
}

QString OdometerLine::markText(int mark) const {
    const OdometerReading& one = readings_[static_cast<std::size_t>(mark)];
    QString text = dateText(one.date) + QStringLiteral(", ") + distanceText(one.odometer, unit_);
    if (!one.text.isEmpty())
        text += QStringLiteral(": ") + one.text;
    return text;
}

int OdometerLine::markAt(const QPointF& at) const {
    int nearest = -1;
    double least = 14 * 14;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        const QPointF away = place(i, contentRect()) - at;
        const double square = QPointF::dotProduct(away, away);
        if (square < least) {
            least = square;
            nearest = static_cast<int>(i);
        }
    }
    return nearest;
}

ChartTable OdometerLine::asTable() const {
    ChartTable table;
    table.header << tr("Date") << tr("Odometer") << tr("What");
    for (const OdometerReading& one : readings_) {
        table.rows << QStringList{dateText(one.date), distanceText(one.odometer, unit_), one.text};
    }
    return table;
}

} // namespace milehold::ui
