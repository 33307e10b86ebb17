// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/status.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/roles.h"

#include <QApplication>
#include <QPainterPath>

namespace milehold::ui {

namespace {

QColor colourOf(StatusTone tone, const Tokens& t) {
    switch (tone) {
    case StatusTone::Soft:
        return t.inkSoft;
    case StatusTone::Accent:
        return t.accentText;
    case StatusTone::Amber:
        return t.scheme == Scheme::Dark ? t.amber : t.amberText;
    case StatusTone::Danger:
        return t.dangerText;
    case StatusTone::Plain:
        break;
    }
    return t.ink;
}

constexpr double kShape = 12;

} // namespace

Status statusOf(core::LifeState state) {
    switch (state) {
    case core::LifeState::CameBack:
        return {StatusShape::Triangle, StatusTone::Danger, StatusDelegate::tr("Came back")};
    case core::LifeState::NeverHeld:
        return {StatusShape::Cross, StatusTone::Danger, StatusDelegate::tr("Never held")};
    case core::LifeState::LostSight:
        return {StatusShape::Ring, StatusTone::Soft, StatusDelegate::tr("Lost sight")};
    case core::LifeState::EndedOtherwise:
        return {StatusShape::Square, StatusTone::Soft, StatusDelegate::tr("Ended otherwise")};
    case core::LifeState::Holding:
        break;
    }
    return {StatusShape::Disc, StatusTone::Accent, StatusDelegate::tr("Holding")};
}

void paintStatusShape(QPainter& painter, const QRectF& rect, StatusShape shape, const QColor& colour) {
    const paint::Scope scope(painter);
    const QPointF c = rect.center();
    const double r = std::min(rect.width(), rect.height()) / 2;
    painter.setPen(Qt::NoPen);
    painter.setBrush(colour);
    switch (shape) {
    case StatusShape::Disc:
        painter.drawEllipse(c, r * 0.84, r * 0.84);
        break;
    case StatusShape::Ring:
    case StatusShape::HalfDisc:
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(colour, r * 0.3));
        painter.drawEllipse(c, r * 0.72, r * 0.72);
        if (shape == StatusShape::HalfDisc) {
            painter.setPen(Qt::NoPen);
            painter.setBrush(colour);
            painter.drawPie(QRectF(c.x() - r * 0.72, c.y() - r * 0.72, r * 1.44, r * 1.44), 90 * 16,
                            180 * 16);
        }
        break;
    case StatusShape::Triangle:
        painter.drawPolygon(QPolygonF(
            {c + QPointF(0, -r * 0.9), c + QPointF(r * 0.95, r * 0.78), c + QPointF(-r * 0.95, r * 0.78)}));
        break;
    case StatusShape::Cross:
        painter.setPen(QPen(colour, r * 0.42, Qt::SolidLine, Qt::FlatCap));
        painter.drawLine(c + QPointF(-r * 0.72, -r * 0.72), c + QPointF(r * 0.72, r * 0.72));
        painter.drawLine(c + QPointF(-r * 0.72, r * 0.72), c + QPointF(r * 0.72, -r * 0.72));
        break;
    case StatusShape::Square:
        painter.drawRect(QRectF(c.x() - r * 0.7, c.y() - r * 0.7, r * 1.4, r * 1.4));
        break;
    case StatusShape::Diamond:
        painter.drawPolygon(
            QPolygonF({c + QPointF(0, -r), c + QPointF(r, 0), c + QPointF(0, r), c + QPointF(-r, 0)}));
        break;
    }
}

void paintStatus(QPainter& painter, const QRectF& rect, const Status& status, const Tokens& tokens) {
    const QRectF mark(rect.left(), rect.center().y() - kShape / 2, kShape, kShape);
    paintStatusShape(painter, mark, status.shape, colourOf(status.tone, tokens));
    const QRectF at = rect.adjusted(kShape + kGrid, 0, 0, 0);
    painter.setPen(status.tone == StatusTone::Soft ? tokens.inkSoft : tokens.ink);
    const QString text =
        painter.fontMetrics().elidedText(status.word, Qt::ElideRight, static_cast<int>(at.width()));
    painter.drawText(at, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextSingleLine, text);
}

void StatusDelegate::paint(QPainter* painter, const QStyleOptionViewItem& given,
                           const QModelIndex& index) const {
    const QVariant value = index.data(kStatusRole);
    if (!value.canConvert<Status>()) {
        QStyledItemDelegate::paint(painter, given, index);
        return;
    }
    QStyleOptionViewItem option = given;
    initStyleOption(&option, index);
    option.text.clear();
    option.icon = {};
    const QStyle* style = option.widget ? option.widget->style() : QApplication::style();
    style->drawControl(QStyle::CE_ItemViewItem, &option, painter, option.widget);
    painter->save();
    painter->setFont(option.font);
    paintStatus(*painter, QRectF(option.rect).adjusted(10, 0, -6, 0), value.value<Status>(),
                theme::tokensOf(option.widget));
    painter->restore();
}

QSize StatusDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const {
    const QString word = index.data(kStatusRole).value<Status>().word;
    return {option.fontMetrics.horizontalAdvance(word) + static_cast<int>(kShape) + 32, kRowHeight};
}

StatusLabel::StatusLabel(const Status& status, QWidget* parent) : QWidget(parent) {
    setStatus(status);
}

void StatusLabel::setStatus(const Status& status) {
    status_ = status;
    setAccessibleName(status.word);
    updateGeometry();
    update();
}

QSize StatusLabel::sizeHint() const {
    return {fontMetrics().horizontalAdvance(status_.word) + static_cast<int>(kShape) + kGrid + 2, 24};
}

void StatusLabel::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    paintStatus(painter, QRectF(rect()), status_, theme::tokensOf(this));
}

} // namespace milehold::ui
