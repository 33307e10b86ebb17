// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/paint.h"

#include <QStyleOptionComboBox>
#include <QStyleOptionSpinBox>
#include <QWidget>

namespace milehold::ui::paint {

void field(const Tokens& t, const QStyleOption& option, QPainter& painter, const QWidget* widget) {
    const bool enabled = option.state & QStyle::State_Enabled;
    const bool readOnly = option.state & QStyle::State_ReadOnly;
    const bool focus = option.state & QStyle::State_HasFocus;
    QColor line = t.outline;
    double width = 1;
    if (!enabled) {
        line = t.hairline;
    } else if (readOnly) {
        line = t.hairline;
    } else if (option.state & QStyle::State_MouseOver) {
        line = t.accentText;
    }
    const FieldState state = theme::fieldStateOf(widget);
    if (enabled && state != FieldState::Plain) {
        line = state == FieldState::Error ? t.dangerText : t.amber;
        width = 2;
    }
    box(painter, QRectF(option.rect), enabled ? (readOnly ? t.paper : t.surface) : t.paper, line, kRadius,
        width);
    if (focus) {
        if (state == FieldState::Plain) {
            focusRing(painter, QRectF(option.rect), t);
        } else {
            box(painter, QRectF(option.rect).adjusted(2, 2, -2, -2), QColor(), t.focus, kRadius - 2, 2);
        }
    }
}

void comboBox(const Tokens& t, const QStyleOptionComboBox& option, QPainter& painter, const QWidget* widget) {
    QStyleOption frame = option;
    frame.state &= ~QStyle::State_ReadOnly;
    if (option.frame)
        field(t, frame, painter, widget);
    const QRectF rect(option.rect);
    const QColor colour = option.state & QStyle::State_Enabled ? t.inkSoft : t.inkFaint;
    chevron(painter, QRectF(rect.right() - 24, rect.center().y() - 8, 16, 16), Way::Down, colour);
}

void spinBox(const Tokens& t, const QStyleOptionSpinBox& option, QPainter& painter, const QWidget* widget) {
    if (option.frame)
        field(t, option, painter, widget);
    if (option.buttonSymbols == QAbstractSpinBox::NoButtons)
        return;
    const auto draw = [&](QStyle::SubControl sub, Way way, QAbstractSpinBox::StepEnabledFlag step) {
        const QRect at =
            widget ? widget->style()->subControlRect(QStyle::CC_SpinBox, &option, sub, widget) : QRect();
        const bool enabled = (option.state & QStyle::State_Enabled) && (option.stepEnabled & step);
        const bool hover = enabled && (option.activeSubControls & sub);
        if (hover)
            box(painter, QRectF(at).adjusted(1, 1, -1, -1), mixed(t.surface, t.ink, 0.08), QColor(), 3);
        chevron(painter, QRectF(at), way, enabled ? t.inkSoft : t.inkFaint);
    };
    draw(QStyle::SC_SpinBoxUp, Way::Up, QAbstractSpinBox::StepUpEnabled);
    draw(QStyle::SC_SpinBoxDown, Way::Down, QAbstractSpinBox::StepDownEnabled);
}

} // namespace milehold::ui::paint
