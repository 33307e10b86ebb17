// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/paint.h"

#include <QStyleOptionGroupBox>
#include <QStyleOptionMenuItem>
#include <QStyleOptionProgressBar>
#include <QStyleOptionSlider>
#include <QStyleOptionTab>
#include <QWidget>

namespace milehold::ui::paint {

void scrollBar(const Tokens& t, const QStyleOptionSlider& option, QPainter& painter, const QWidget* widget) {
    if (!widget)
        return;
    const QRectF thumb(
        widget->style()->subControlRect(QStyle::CC_ScrollBar, &option, QStyle::SC_ScrollBarSlider, widget));
    painter.fillRect(option.rect, widget->palette().color(QPalette::Window));
    if (option.maximum <= option.minimum)
        return;
    const bool active = (option.activeSubControls & QStyle::SC_ScrollBarSlider) &&
                        (option.state & (QStyle::State_MouseOver | QStyle::State_Sunken));
    const bool across = option.orientation == Qt::Horizontal;
    const QRectF at = across ? thumb.adjusted(2, 3, -2, -3) : thumb.adjusted(3, 2, -3, -2);
    box(painter, at, active ? t.inkSoft : t.outline, QColor(), 3);
}

void progress(const Tokens& t, const QStyleOptionProgressBar& option, QPainter& painter) {
    QRectF track(option.rect);
    const double thick = std::min(6.0, track.height());
    track = QRectF(track.left(), track.center().y() - thick / 2, track.width(), thick);
    box(painter, track, mixed(t.paper, t.ink, 0.14), QColor(), thick / 2);
    if (option.maximum <= option.minimum) {
        // Length unknown: a still segment, since nothing here moves for show.
        box(painter, QRectF(track.left() + track.width() * 0.3, track.top(), track.width() * 0.4, thick),
            t.accentText, QColor(), thick / 2);
        return;
    }
    const double share = double(option.progress - option.minimum) / double(option.maximum - option.minimum);
    if (share <= 0)
        return;
    const double width = std::max(thick, track.width() * std::min(1.0, share));
    box(painter, QRectF(track.left(), track.top(), width, thick), t.accentText, QColor(), thick / 2);
}

void tabShape(const Tokens& t, const QStyleOptionTab& option, QPainter& painter) {
    const QRectF rect(option.rect);
    const bool selected = option.state & QStyle::State_Selected;
    if (!selected && (option.state & QStyle::State_MouseOver)) {
        box(painter, rect.adjusted(2, 4, -2, -4), mixed(t.paper, t.ink, 0.06), QColor(), 4);
    }
    if (selected) {
        painter.fillRect(QRectF(rect.left() + kGrid, rect.bottom() - 3, rect.width() - 2 * kGrid, 3),
                         t.accentText);
    }
    if (option.state & QStyle::State_HasFocus)
        focusRing(painter, rect.adjusted(2, 3, -2, -5), t, 4);
}

void tabLabel(const Tokens& t, const QStyleOptionTab& option, QPainter& painter) {
    const Scope scope(painter);
    const bool selected = option.state & QStyle::State_Selected;
    const bool enabled = option.state & QStyle::State_Enabled;
    QFont font = painter.font();
    font.setWeight(QFont::Medium);
    painter.setFont(font);
    painter.setPen(!enabled ? t.inkFaint : selected ? t.ink : t.inkSoft);
    QRect at = option.rect.adjusted(kGrid, 0, -kGrid, -2);
    if (!option.icon.isNull()) {
        const QRect iconAt(at.left(), at.center().y() - option.iconSize.height() / 2, option.iconSize.width(),
                           option.iconSize.height());
        option.icon.paint(&painter, iconAt, Qt::AlignCenter, enabled ? QIcon::Normal : QIcon::Disabled);
        at.setLeft(iconAt.right() + kGrid);
    }
    painter.drawText(at, Qt::AlignCenter | Qt::TextShowMnemonic, option.text);
}

void groupBox(const Tokens& t, const QStyleOptionGroupBox& option, QPainter& painter, const QWidget* widget) {
    if (!widget)
        return;
    QStyle* style = widget->style();
    const QRect text = style->subControlRect(QStyle::CC_GroupBox, &option, QStyle::SC_GroupBoxLabel, widget);
    if (option.subControls & QStyle::SC_GroupBoxFrame) {
        const int y = text.isNull() ? option.rect.top() : text.center().y();
        const int from = text.isNull() ? option.rect.left() : text.right() + kGrid;
        hairline(painter, QPoint(from, y), QPoint(option.rect.right(), y), t.hairline);
    }
    if ((option.subControls & QStyle::SC_GroupBoxCheckBox)) {
        QStyleOption check = option;
        check.rect = style->subControlRect(QStyle::CC_GroupBox, &option, QStyle::SC_GroupBoxCheckBox, widget);
        checkMark(t, check, painter);
    }
    if (!option.text.isEmpty()) {
        const Scope scope(painter);
        painter.setFont(theme::font(TextRole::Strong));
        painter.setPen(option.state & QStyle::State_Enabled ? t.ink : t.inkFaint);
        painter.drawText(text, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextShowMnemonic, option.text);
    }
}

void splitter(const Tokens& t, const QStyleOption& option, QPainter& painter) {
    const QRect rect = option.rect;
    const bool hover = option.state & QStyle::State_MouseOver;
    const QColor line = hover ? t.accentText : t.hairline;
    if (option.state & QStyle::State_Horizontal) {
        hairline(painter, QPoint(rect.center().x(), rect.top()), QPoint(rect.center().x(), rect.bottom()),
                 line);
    } else {
        hairline(painter, QPoint(rect.left(), rect.center().y()), QPoint(rect.right(), rect.center().y()),
                 line);
    }
}

void menuItem(const Tokens& t, const QStyleOptionMenuItem& option, QPainter& painter) {
    const QRect rect = option.rect;
    painter.fillRect(rect, t.raised);
    if (option.menuItemType == QStyleOptionMenuItem::Separator) {
        hairline(painter, QPoint(rect.left() + kGrid, rect.center().y()),
                 QPoint(rect.right() - kGrid, rect.center().y()), t.hairline);
        return;
    }
    const bool enabled = option.state & QStyle::State_Enabled;
    const Scope scope(painter);
    if (enabled && (option.state & QStyle::State_Selected)) {
        box(painter, QRectF(rect).adjusted(4, 1, -4, -1), t.accentSoft, QColor(), 4);
    }
    const QRect iconAt(rect.left() + 10, rect.center().y() - kIconSize / 2 + 1, kIconSize, kIconSize);
    if (option.checkType != QStyleOptionMenuItem::NotCheckable) {
        if (option.checked)
            tick(painter, QRectF(iconAt), enabled ? t.accentText : t.inkFaint);
    } else if (!option.icon.isNull()) {
        option.icon.paint(&painter, iconAt, Qt::AlignCenter, enabled ? QIcon::Normal : QIcon::Disabled);
    }
    painter.setFont(option.font);
    painter.setPen(enabled ? t.ink : t.inkFaint);
    const QRect textAt = rect.adjusted(10 + kIconSize + kGrid, 0, -kGap, 0);
    const QStringList parts = option.text.split(u'\t');
    constexpr int kFlags = Qt::AlignVCenter | Qt::TextShowMnemonic | Qt::TextSingleLine;
    painter.drawText(textAt, kFlags | Qt::AlignLeft, parts.value(0));
    if (parts.size() > 1) {
        painter.setPen(enabled ? t.inkSoft : t.inkFaint);
        painter.drawText(textAt, kFlags | Qt::AlignRight, parts.value(1));
    }
    if (option.menuItemType == QStyleOptionMenuItem::SubMenu) {
        chevron(painter, QRectF(rect.right() - 22, rect.center().y() - 7, 16, 16), Way::Right, t.inkSoft);
    }
}

void menuBarItem(const Tokens& t, const QStyleOptionMenuItem& option, QPainter& painter) {
    painter.fillRect(option.rect, t.paper);
    if (option.state & (QStyle::State_Selected | QStyle::State_Sunken)) {
        box(painter, QRectF(option.rect).adjusted(1, 2, -1, -2), t.accentSoft, QColor(), 4);
    }
    painter.setPen(option.state & QStyle::State_Enabled ? t.ink : t.inkFaint);
    painter.drawText(option.rect, Qt::AlignCenter | Qt::TextShowMnemonic | Qt::TextSingleLine, option.text);
}

void slider(const Tokens& t, const QStyleOptionSlider& option, QPainter& painter, const QWidget* widget) {
    if (!widget)
        return;
    const bool enabled = option.state & QStyle::State_Enabled;
    const bool across = option.orientation == Qt::Horizontal;
    const QRectF rect(option.rect);
    const QRectF handle(
        widget->style()->subControlRect(QStyle::CC_Slider, &option, QStyle::SC_SliderHandle, widget));
    const QRectF track = across ? QRectF(rect.left(), rect.center().y() - 2, rect.width(), 4)
                                : QRectF(rect.center().x() - 2, rect.top(), 4, rect.height());
    box(painter, track, mixed(t.paper, t.ink, 0.14), QColor(), 2);
    QRectF done = track;
    if (across) {
        done.setRight(handle.center().x());
    } else {
        done.setTop(handle.center().y());
    }
    box(painter, done, enabled ? t.accentText : t.inkFaint, QColor(), 2);
    QRectF knob(0, 0, 16, 16);
    knob.moveCenter(handle.center());
    box(painter, knob, t.surface, enabled ? t.accentText : t.inkFaint, 8, 2);
    if (option.state & QStyle::State_HasFocus)
        focusRing(painter, knob.adjusted(-3, -3, 3, 3), t, 11);
}

} // namespace milehold::ui::paint
