// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/paint.h"

#include <QPolygonF>
#include <QStyleOptionButton>

namespace milehold::ui::paint {

void box(QPainter& painter, const QRectF& rect, const QColor& fill, const QColor& line, double radius,
         double width) {
    const Scope scope(painter);
    const double inset = line.isValid() ? width / 2 : 0;
    painter.setPen(line.isValid() ? QPen(line, width) : QPen(Qt::NoPen));
    painter.setBrush(fill.isValid() ? QBrush(fill) : QBrush(Qt::NoBrush));
    const QRectF inner = rect.adjusted(inset, inset, -inset, -inset);
    const double corner = std::max(0.0, radius - inset);
    painter.drawRoundedRect(inner, corner, corner);
}

void focusRing(QPainter& painter, const QRectF& rect, const Tokens& tokens, double radius) {
    box(painter, rect, QColor(), tokens.focus, radius, 2);
}

void chevron(QPainter& painter, const QRectF& rect, Way way, const QColor& colour) {
    const Scope scope(painter);
    painter.setPen(QPen(colour, 1.6, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    painter.translate(rect.center());
    painter.rotate(way == Way::Down ? 0 : way == Way::Up ? 180 : way == Way::Left ? 90 : -90);
    painter.drawPolyline(QPolygonF({QPointF(-4, -2), QPointF(0, 2), QPointF(4, -2)}));
}

void tick(QPainter& painter, const QRectF& rect, const QColor& colour, double width) {
    const Scope scope(painter);
    painter.setPen(QPen(colour, width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    const double s = std::min(rect.width(), rect.height());
    const QPointF c = rect.center();
    painter.drawPolyline(QPolygonF({c + QPointF(-0.26 * s, 0.02 * s), c + QPointF(-0.07 * s, 0.20 * s),
                                    c + QPointF(0.28 * s, -0.19 * s)}));
}

void hairline(QPainter& painter, const QPointF& from, const QPointF& to, const QColor& colour) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing, false);
    painter.setPen(QPen(colour, 1));
    painter.drawLine(from, to);
    painter.restore();
}

namespace {

QColor markLine(const Tokens& t, const QStyleOption& option) {
    if (!(option.state & QStyle::State_Enabled))
        return t.hairline;
    return option.state & QStyle::State_MouseOver ? t.accentText : t.outline;
}

QRectF markRect(const QStyleOption& option) {
    const double side = 18;
    QRectF rect(0, 0, side, side);
    rect.moveCenter(QRectF(option.rect).center());
    return rect.translated(-std::fmod(rect.x(), 1.0), -std::fmod(rect.y(), 1.0));
}

} // namespace

void checkMark(const Tokens& t, const QStyleOption& option, QPainter& painter) {
    const bool enabled = option.state & QStyle::State_Enabled;
    const QRectF rect = markRect(option);
    const bool on = option.state & QStyle::State_On;
    const bool half = option.state & QStyle::State_NoChange;
    if (on || half) {
        box(painter, rect, enabled ? t.accent : t.inkFaint, QColor(), 4);
        if (on) {
            tick(painter, rect, t.onAccent);
        } else {
            box(painter, QRectF(rect.center().x() - 4, rect.center().y() - 1, 8, 2), t.onAccent, QColor(), 1);
        }
    } else {
        box(painter, rect, enabled ? t.surface : t.paper, markLine(t, option), 4, 1.5);
    }
    if (option.state & QStyle::State_HasFocus)
        focusRing(painter, rect.adjusted(-3, -3, 3, 3), t, 6);
}

void radioMark(const Tokens& t, const QStyleOption& option, QPainter& painter) {
    const bool enabled = option.state & QStyle::State_Enabled;
    const QRectF rect = markRect(option);
    if (option.state & QStyle::State_On) {
        box(painter, rect, t.surface, enabled ? t.accentText : t.inkFaint, 9, 1.5);
        box(painter, rect.adjusted(4.5, 4.5, -4.5, -4.5), enabled ? t.accentText : t.inkFaint, QColor(), 5);
    } else {
        box(painter, rect, enabled ? t.surface : t.paper, markLine(t, option), 9, 1.5);
    }
    if (option.state & QStyle::State_HasFocus)
        focusRing(painter, rect.adjusted(-3, -3, 3, 3), t, 12);
}

} // namespace milehold::ui::paint
