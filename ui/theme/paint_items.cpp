// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/figures.h"
#include "ui/theme/paint.h"

#include <QAbstractItemView>
#include <QStyleOptionHeader>
#include <QStyleOptionViewItem>

namespace milehold::ui::paint {

namespace {

bool isSelected(const QStyleOptionViewItem& option) {
    return (option.state & QStyle::State_Selected) && option.showDecorationSelected;
}

bool inTable(const QWidget* widget) {
    return widget && widget->inherits("QTableView");
}

bool inTree(const QWidget* widget) {
    return widget && widget->inherits("QTreeView");
}

bool inCalendar(const QWidget* widget) {
    return widget && widget->inherits("QCalendarView");
}

} // namespace

void row(const Tokens& t, const QStyleOptionViewItem& option, QPainter& painter, const QWidget* widget) {
    const QRectF rect(option.rect);
    QColor fill;
    if (option.backgroundBrush.style() == Qt::SolidPattern)
        fill = option.backgroundBrush.color();
    if (option.state & QStyle::State_Selected) {
        fill = t.accentSoft;
    } else if ((option.state & QStyle::State_MouseOver) && (option.state & QStyle::State_Enabled)) {
        fill = mixed(t.surface, t.ink, 0.05);
    }
    const bool flat = inTable(widget) || (widget && widget->inherits("QTreeView"));
    if (fill.isValid()) {
        if (flat) {
            painter.fillRect(rect, fill);
        } else {
            box(painter, rect.adjusted(2, 1, -2, -1), fill, QColor(), kRadius - 2);
        }
    }
}

void item(const Tokens& t, const QStyleOptionViewItem& given, QPainter& painter, const QWidget* widget) {
    const Scope scope(painter);
    painter.setClipRect(given.rect);
    row(t, given, painter, widget);
    QStyleOptionViewItem option = given;
    // In a list the mark of the row is rounded; what stands in it keeps off its ends.
    if (!inTable(widget) && !inTree(widget))
        option.rect.adjust(kHalf + 2, 0, -kHalf - 2, 0);
    const bool enabled = option.state & QStyle::State_Enabled;
    QStyle* style = widget ? widget->style() : nullptr;
    if (style && (option.features & QStyleOptionViewItem::HasCheckIndicator)) {
        QStyleOptionViewItem check = option;
        check.rect = style->subElementRect(QStyle::SE_ItemViewItemCheckIndicator, &option, widget);
        check.state &= ~QStyle::State_HasFocus;
        check.state |= option.checkState == Qt::Checked            ? QStyle::State_On
                       : option.checkState == Qt::PartiallyChecked ? QStyle::State_NoChange
                                                                   : QStyle::State_Off;
        checkMark(t, check, painter);
    }
    if (style && !option.icon.isNull()) {
        const QRect at = style->subElementRect(QStyle::SE_ItemViewItemDecoration, &option, widget);
        option.icon.paint(&painter, at, option.decorationAlignment,
                          enabled ? QIcon::Normal : QIcon::Disabled);
    }
    if (!option.text.isEmpty() && style) {
        QRect at = style->subElementRect(QStyle::SE_ItemViewItemText, &option, widget);
        const bool cell = inTable(widget) || (inTree(widget) && option.index.column() > 0);
        const int margin = inCalendar(widget) ? 0 : cell ? kGrid + 2 : kHalf;
        at.adjust(margin, 0, -margin, 0);
        QColor ink = option.palette.color(enabled ? QPalette::Normal : QPalette::Disabled, QPalette::Text);
        painter.setPen(ink);
        painter.setFont(option.font);
        const bool wraps = option.features & QStyleOptionViewItem::WrapText;
        if (option.displayAlignment & Qt::AlignRight && !wraps) {
            drawFigures(painter, QRectF(at), option.displayAlignment, option.text);
        } else if (wraps && at.height() > option.fontMetrics.height() * 3 / 2) {
            painter.drawText(at, static_cast<int>(option.displayAlignment) | Qt::TextWordWrap, option.text);
        } else {
            QString text = option.text;
            text.replace(u'\n', u' ');
            text = option.fontMetrics.elidedText(text, option.textElideMode, at.width());
            painter.drawText(at, static_cast<int>(option.displayAlignment) | Qt::TextSingleLine, text);
        }
    }
    if ((option.state & QStyle::State_HasFocus) && enabled) {
        // One ring around the cell that has the keyboard, also where whole rows are selected.
        focusRing(painter, QRectF(given.rect).adjusted(1, 1, -1, -1), t, 4);
    } else if (isSelected(option) && option.viewItemPosition == QStyleOptionViewItem::Beginning &&
               inTable(widget)) {
        painter.fillRect(QRectF(given.rect.left(), given.rect.top(), 3, given.rect.height()), t.accentText);
    }
}

void headerSection(const Tokens& t, const QStyleOptionHeader& option, QPainter& painter) {
    const QRectF rect(option.rect);
    QColor fill = t.paper;
    if ((option.state & QStyle::State_MouseOver) && (option.state & QStyle::State_Enabled)) {
        fill = mixed(t.paper, t.ink, 0.06);
    }
    painter.fillRect(rect, fill);
    if (option.orientation == Qt::Horizontal) {
        hairline(painter, option.rect.bottomLeft(), option.rect.bottomRight(), t.outline);
    } else {
        hairline(painter, option.rect.topRight(), option.rect.bottomRight(), t.hairline);
    }
}

void headerLabel(const Tokens& t, const QStyleOptionHeader& option, QPainter& painter,
                 const QWidget* widget) {
    const Scope scope(painter);
    QFont font = theme::font(TextRole::Small);
    font.setWeight(QFont::Medium);
    painter.setFont(font);
    painter.setPen(option.state & QStyle::State_Enabled ? t.inkSoft : t.inkFaint);
    QRect at = option.rect;
    const bool sorted = option.sortIndicator != QStyleOptionHeader::None;
    const bool right = option.textAlignment & Qt::AlignRight;
    if (widget && option.orientation == Qt::Horizontal)
        at.adjust(kGrid + 2, 0, -(kGrid + 2), 0);
    const QFontMetrics metrics(font);
    const int room = at.width() - (sorted ? 16 : 0);
    const QString text = metrics.elidedText(option.text, Qt::ElideRight, room);
    const int width = metrics.horizontalAdvance(text);
    int x = right ? at.right() + 1 - width - (sorted ? 16 : 0) : at.left();
    if (option.textAlignment & Qt::AlignHCenter)
        x = at.left() + (room - width) / 2;
    if (sorted)
        painter.setPen(t.ink);
    painter.drawText(QRect(x, at.top(), width + 2, at.height()), Qt::AlignVCenter | Qt::TextSingleLine, text);
    if (sorted) {
        // Qt names the indicator after the way its triangle pointed of old: SortDown is ascending.
        const Way way = option.sortIndicator == QStyleOptionHeader::SortDown ? Way::Up : Way::Down;
        chevron(painter, QRectF(x + width + 3, at.center().y() - 7, 14, 16), way, t.accentText);
    }
}

} // namespace milehold::ui::paint
