// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/paint.h"

#include <QStyleOptionButton>
#include <QWidget>

namespace milehold::ui::paint {

namespace {

struct ButtonColours {
    QColor fill, line, text;
};

ButtonColours coloursOf(const Tokens& t, const QStyleOption& option, ButtonRole role) {
    const bool enabled = option.state & QStyle::State_Enabled;
    const bool hover = enabled && (option.state & QStyle::State_MouseOver);
    const bool down = option.state & (QStyle::State_Sunken | QStyle::State_On);
    if (!enabled) {
        const bool quiet = role == ButtonRole::Quiet;
        return {quiet ? QColor() : mixed(t.paper, t.sunken, 0.7), quiet ? QColor() : t.hairline, t.inkFaint};
    }
    switch (role) {
    case ButtonRole::Primary:
        return {down ? t.accentPressed : hover ? t.accentHover : t.accent, QColor(), t.onAccent};
    case ButtonRole::Danger:
        return {down || hover ? t.danger : QColor(t.surface), t.danger,
                down || hover ? t.onDanger : t.dangerText};
    case ButtonRole::Quiet:
        return {down    ? t.accentSoft
                : hover ? mixed(t.paper, t.ink, 0.08)
                        : QColor(),
                QColor(), down ? t.ink : t.accentText};
    case ButtonRole::Ordinary:
        break;
    }
    return {down    ? t.accentSoft
            : hover ? t.raised
                    : t.surface,
            hover || down ? t.accentText : t.outline, t.ink};
}

} // namespace

void buttonPanel(const Tokens& t, const QStyleOptionButton& option, QPainter& painter,
                 const QWidget* widget) {
    ButtonRole role = theme::roleOf(widget);
    if (option.features & QStyleOptionButton::Flat)
        role = ButtonRole::Quiet;
    const ButtonColours colours = coloursOf(t, option, role);
    const QRectF rect(option.rect);
    box(painter, rect, colours.fill, colours.line);
    if (option.state & QStyle::State_HasFocus) {
        // On a filled button the ring stands inside a thin gap of its ground, or it would drown in the fill.
        focusRing(painter, rect, t);
        if (role == ButtonRole::Primary || role == ButtonRole::Danger) {
            box(painter, rect.adjusted(2, 2, -2, -2), QColor(), t.paper, kRadius - 2, 1);
        }
    }
}

void buttonLabel(const Tokens& t, const QStyleOptionButton& option, QPainter& painter,
                 const QWidget* widget) {
    ButtonRole role = theme::roleOf(widget);
    if (option.features & QStyleOptionButton::Flat)
        role = ButtonRole::Quiet;
    const ButtonColours colours = coloursOf(t, option, role);
    const bool enabled = option.state & QStyle::State_Enabled;
    const bool filled = colours.text == t.onAccent || colours.text == t.onDanger;
    const bool menu = option.features & QStyleOptionButton::HasMenu;
    const Scope scope(painter);
    QFont font = painter.font();
    if (widget)
        font = widget->font();
    font.setWeight(QFont::Medium);
    painter.setFont(font);
    painter.setPen(colours.text);
    const QFontMetrics metrics(font);
    QRect area = option.rect.adjusted(8, 0, menu ? -20 : -8, 0);
    const QSize iconSize = option.icon.isNull() ? QSize(0, 0) : option.iconSize;
    const int gap = option.icon.isNull() || option.text.isEmpty() ? 0 : kGrid;
    const int textWidth = metrics.size(Qt::TextShowMnemonic, option.text).width();
    const int whole = std::min(iconSize.width() + gap + textWidth, area.width());
    int x = area.left() + (area.width() - whole) / 2;
    if (!option.icon.isNull()) {
        const QIcon::Mode mode = !enabled                    ? QIcon::Disabled
                                 : filled                    ? QIcon::Selected
                                 : role == ButtonRole::Quiet ? QIcon::Active
                                                             : QIcon::Normal;
        const QRect at(x, area.center().y() - iconSize.height() / 2 + 1, iconSize.width(), iconSize.height());
        option.icon.paint(&painter, at, Qt::AlignCenter, mode);
        x += iconSize.width() + gap;
    }
    const QRect textRect(x, area.top(), area.right() + 1 - x, area.height());
    const QString text =
        metrics.elidedText(option.text, Qt::ElideRight, textRect.width(), Qt::TextShowMnemonic);
    painter.drawText(textRect, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextShowMnemonic | Qt::TextSingleLine,
                     text);
    if (menu) {
        const QRectF at(option.rect.right() - 22, option.rect.center().y() - 7, 16, 16);
        chevron(painter, at, Way::Down, colours.text);
    }
}

void toolPanel(const Tokens& t, const QStyleOption& option, QPainter& painter) {
    const bool enabled = option.state & QStyle::State_Enabled;
    QColor fill;
    if (option.state & QStyle::State_On) {
        fill = t.accentSoft;
    } else if (option.state & QStyle::State_Sunken) {
        fill = mixed(t.paper, t.ink, 0.16);
    } else if (enabled && (option.state & QStyle::State_MouseOver)) {
        fill = mixed(t.paper, t.ink, 0.08);
    }
    box(painter, QRectF(option.rect), fill, QColor());
    if (option.state & QStyle::State_HasFocus)
        focusRing(painter, QRectF(option.rect), t);
}

void toolButton(const Tokens& t, const QStyleOptionToolButton& option, QPainter& painter,
                const QWidget* widget) {
    toolPanel(t, option, painter);
    QStyleOptionToolButton label = option;
    const bool menu = option.features & QStyleOptionToolButton::HasMenu;
    if (menu && option.toolButtonStyle != Qt::ToolButtonIconOnly) {
        label.rect.adjust(4, 0, -18, 0);
        chevron(painter, QRectF(option.rect.right() - 19, option.rect.center().y() - 7, 16, 16), Way::Down,
                option.state & QStyle::State_Enabled ? t.inkSoft : t.inkFaint);
    }
    if (option.toolButtonStyle == Qt::ToolButtonTextBesideIcon && !option.icon.isNull()) {
        const Scope scope(painter);
        const bool enabled = option.state & QStyle::State_Enabled;
        const QRect r = label.rect.adjusted(kGrid - 2, 0, -kHalf, 0);
        const QRect at(r.left(), r.center().y() - option.iconSize.height() / 2 + 1, option.iconSize.width(),
                       option.iconSize.height());
        option.icon.paint(&painter, at, Qt::AlignCenter, enabled ? QIcon::Normal : QIcon::Disabled);
        const QRect textAt = r.adjusted(option.iconSize.width() + 6, 0, 0, 0);
        painter.setFont(option.font);
        painter.setPen(enabled ? t.ink : t.inkFaint);
        const QFontMetrics metrics(option.font);
        painter.drawText(
            textAt, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextShowMnemonic | Qt::TextSingleLine,
            metrics.elidedText(option.text, Qt::ElideRight, textAt.width(), Qt::TextShowMnemonic));
        return;
    }
    label.features &= ~QStyleOptionToolButton::Arrow;
    // No shift of the label when pressed.
    label.state &= ~QStyle::State_Sunken;
    if (widget)
        widget->style()->drawControl(QStyle::CE_ToolButtonLabel, &label, &painter, widget);
}

} // namespace milehold::ui::paint
