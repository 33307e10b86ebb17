// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/rail.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QStyledItemDelegate>

namespace milehold::ui {

namespace {

constexpr int kWidth = 88;
constexpr int kItemHeight = 72;
constexpr int kIconRole = Qt::UserRole + 1;
constexpr int kCountRole = Qt::UserRole + 2;

class RoomDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const paint::Scope scope(*painter);
        const Tokens& t = theme::tokensOf(option.widget);
        const QRectF r = QRectF(option.rect).adjusted(6, 4, -6, -4);
        const bool on = option.state & QStyle::State_Selected;
        if (on) {
            paint::box(*painter, r, t.surface, t.hairline);
            painter->fillRect(QRectF(r.left() + 1, r.top() + 12, 3, r.height() - 24), t.accentText);
        } else if (option.state & QStyle::State_MouseOver) {
            paint::box(*painter, r, mixed(t.sunken, t.ink, 0.06), QColor());
        }
        const QColor ink = on ? t.accentText : t.inkSoft;
        paintIcon(*painter, QRectF(r.center().x() - 13, r.top() + 9, 26, 26),
                  index.data(kIconRole).toString(), ink);
        QFont font = theme::font(TextRole::Small);
        font.setWeight(on ? QFont::DemiBold : QFont::Medium);
        painter->setFont(font);
        painter->setPen(on ? t.ink : t.inkSoft);
        const QString name = index.data().toString();
        painter->drawText(QRectF(r.left() + 2, r.top() + 38, r.width() - 4, 18), Qt::AlignCenter,
                          QFontMetricsF(font).elidedText(name, Qt::ElideRight, r.width() - 4));
        if (const int count = index.data(kCountRole).toInt(); count > 0) {
            const QString text = count > 99 ? QStringLiteral("99+") : QString::number(count);
            font.setWeight(QFont::DemiBold);
            painter->setFont(font);
            const double wide = std::max(18.0, QFontMetricsF(font).horizontalAdvance(text) + 8);
            const QRectF badge(std::min(r.center().x() + 6, r.right() - wide - 3), r.top() + 4, wide, 18);
            paint::box(*painter, badge, t.amber, on ? t.surface : t.sunken, 9, 1.5);
            painter->setPen(t.onAmber);
            painter->drawText(badge, Qt::AlignCenter, text);
        }
        if (option.state & QStyle::State_HasFocus)
            paint::focusRing(*painter, r, t);
    }

    QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override {
        return {kWidth, kItemHeight};
    }
};

} // namespace

Rail::Rail(QWidget* parent) : QListWidget(parent) {
    setItemDelegate(new RoomDelegate(this));
    setFrameShape(NoFrame);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setFixedWidth(kWidth);
    setMouseTracking(true);
    setUniformItemSizes(true);
    setEditTriggers(NoEditTriggers);
    setDragDropMode(NoDragDrop);
    viewport()->setAutoFillBackground(false);
    setAccessibleName(tr("Rooms"));
}

void Rail::addRoom(const QString& name, const QString& iconName) {
    auto* item = new QListWidgetItem(name, this);
    item->setData(kIconRole, iconName);
    const int number = count();
    item->setToolTip(tr("%1 (Alt+%2)").arg(name).arg(number));
    item->setData(Qt::AccessibleTextRole, name);
}

void Rail::setCount(int row, int waiting) {
    QListWidgetItem* room = item(row);
    if (!room)
        return;
    room->setData(kCountRole, waiting);
    room->setData(Qt::AccessibleTextRole,
                  waiting > 0 ? tr("%1, %2 waiting").arg(room->text()).arg(waiting) : room->text());
}

QSize Rail::sizeHint() const {
    return {kWidth, kItemHeight * 4};
}

void Rail::paintEvent(QPaintEvent* event) {
    QPainter painter(viewport());
    const Tokens& t = theme::tokensOf(this);
    painter.fillRect(viewport()->rect(), t.sunken);
    const int right = viewport()->width() - 1;
    paint::hairline(painter, QPointF(right, 0), QPointF(right, viewport()->height()), t.hairline);
    painter.end();
    QListWidget::paintEvent(event);
}

} // namespace milehold::ui
