// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/paper_style.h"

#include "ui/theme/paint.h"

#include <QAbstractItemView>
#include <QAbstractSpinBox>
#include <QCalendarWidget>
#include <QComboBox>
#include <QLineEdit>
#include <QStyleFactory>
#include <QStyleOption>
#include <QTabBar>
#include <QTextCharFormat>
#include <QTextEdit>
#include <QWidget>

namespace milehold::ui {

namespace {

/// Qt passes the option of the element by its base type; this narrows it, or gives nothing.
template <class T> const T* as(const QStyleOption* option) {
    return qstyleoption_cast<const T*>(option);
}

bool isTextFrame(const QWidget* widget) {
    return widget && (widget->inherits("QTextEdit") || widget->inherits("QPlainTextEdit"));
}

paint::Way wayOf(QStyle::PrimitiveElement arrow) {
    switch (arrow) {
    case QStyle::PE_IndicatorArrowUp:
        return paint::Way::Up;
    case QStyle::PE_IndicatorArrowLeft:
        return paint::Way::Left;
    case QStyle::PE_IndicatorArrowRight:
        return paint::Way::Right;
    default:
        return paint::Way::Down;
    }
}

} // namespace

PaperStyle::PaperStyle(const Tokens& tokens)
    : QProxyStyle(QStyleFactory::create(QStringLiteral("Fusion"))), tokens_(tokens) {}

void PaperStyle::polish(QWidget* widget) {
    QProxyStyle::polish(widget);
    if (auto* calendar = qobject_cast<QCalendarWidget*>(widget)) {
        // Days are days: no colour for the two that Qt paints red.
        for (const auto day : {Qt::Saturday, Qt::Sunday})
            calendar->setWeekdayTextFormat(day, QTextCharFormat());
    }
    if (qobject_cast<QAbstractButton*>(widget) || qobject_cast<QComboBox*>(widget) ||
        qobject_cast<QAbstractSpinBox*>(widget) || qobject_cast<QLineEdit*>(widget) ||
        qobject_cast<QTabBar*>(widget) || widget->inherits("QScrollBar") || widget->inherits("QHeaderView") ||
        widget->inherits("QSplitterHandle")) {
        widget->setAttribute(Qt::WA_Hover);
    }
}

void PaperStyle::unpolish(QWidget* widget) {
    QProxyStyle::unpolish(widget);
}

void PaperStyle::drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                               const QWidget* widget) const {
    const Tokens& t = tokens_;
    switch (element) {
    case PE_PanelButtonCommand:
        if (const auto* button = as<QStyleOptionButton>(option)) {
            paint::buttonPanel(t, *button, *painter, widget);
            return;
        }
        break;
    case PE_PanelButtonTool:
        paint::toolPanel(t, *option, *painter);
        return;
    case PE_FrameFocusRect:
        if (!widget || !widget->inherits("QAbstractButton")) {
            paint::focusRing(*painter, QRectF(option->rect), t, 4);
        }
        return; // buttons draw their ring with the panel or the mark
    case PE_PanelLineEdit:
        if (const auto* frame = as<QStyleOptionFrame>(option); frame && frame->lineWidth > 0) {
            paint::field(t, *option, *painter, widget);
        }
        return; // an editor inside a spin box or combo box lies on the field that its owner drew
    case PE_FrameLineEdit:
        paint::field(t, *option, *painter, widget);
        return;
    case PE_IndicatorCheckBox:
    case PE_IndicatorItemViewItemCheck:
        paint::checkMark(t, *option, *painter);
        return;
    case PE_IndicatorRadioButton:
        paint::radioMark(t, *option, *painter);
        return;
    case PE_Frame:
        if (isTextFrame(widget)) {
            paint::field(t, *option, *painter, widget);
        } else {
            paint::box(*painter, QRectF(option->rect), QColor(),
                       option->state & State_HasFocus ? t.focus : t.hairline, 2);
        }
        return;
    case PE_FrameTabBarBase:
        paint::hairline(*painter, option->rect.bottomLeft(), option->rect.bottomRight(), t.hairline);
        return;
    case PE_FrameTabWidget:
        paint::hairline(*painter, option->rect.topLeft(), option->rect.topRight(), t.hairline);
        return;
    case PE_PanelItemViewRow:
    case PE_PanelItemViewItem:
        if (const auto* row = as<QStyleOptionViewItem>(option))
            paint::row(t, *row, *painter, widget);
        return;
    case PE_IndicatorBranch:
        if (option->state & State_Selected)
            painter->fillRect(option->rect, t.accentSoft);
        if (option->state & State_Children) {
            paint::chevron(*painter, QRectF(option->rect),
                           option->state & State_Open ? paint::Way::Down : paint::Way::Right, t.inkSoft);
        }
        return;
    case PE_FrameMenu:
    case PE_PanelTipLabel:
        paint::box(*painter, QRectF(option->rect), t.raised, t.outline, 2);
        return;
    case PE_PanelMenu:
        painter->fillRect(option->rect, t.raised);
        return;
    case PE_IndicatorArrowDown:
    case PE_IndicatorArrowUp:
    case PE_IndicatorArrowLeft:
    case PE_IndicatorArrowRight:
        paint::chevron(*painter, QRectF(option->rect), wayOf(element), t.inkSoft);
        return;
    case PE_FrameGroupBox:
    case PE_FrameStatusBarItem:
    case PE_IndicatorHeaderArrow:
        return;
    case PE_PanelStatusBar:
        painter->fillRect(option->rect, t.paper);
        paint::hairline(*painter, option->rect.topLeft(), option->rect.topRight(), t.hairline);
        return;
    default:
        break;
    }
    QProxyStyle::drawPrimitive(element, option, painter, widget);
}

void PaperStyle::drawControl(ControlElement element, const QStyleOption* option, QPainter* painter,
                             const QWidget* widget) const {
    const Tokens& t = tokens_;
    switch (element) {
    case CE_PushButtonLabel:
        if (const auto* o = as<QStyleOptionButton>(option))
            return paint::buttonLabel(t, *o, *painter, widget);
        break;
    case CE_PushButtonBevel:
        if (const auto* o = as<QStyleOptionButton>(option))
            return paint::buttonPanel(t, *o, *painter, widget);
        break;
    case CE_ItemViewItem:
        if (const auto* o = as<QStyleOptionViewItem>(option))
            return paint::item(t, *o, *painter, widget);
        break;
    case CE_Header:
        // Whole here: the common style would ask Fusion, not us, where the label lies.
        if (const auto* o = as<QStyleOptionHeader>(option)) {
            paint::headerSection(t, *o, *painter);
            return paint::headerLabel(t, *o, *painter, widget);
        }
        break;
    case CE_HeaderSection:
        if (const auto* o = as<QStyleOptionHeader>(option))
            return paint::headerSection(t, *o, *painter);
        break;
    case CE_HeaderEmptyArea:
        painter->fillRect(option->rect, t.paper);
        if (option->state & State_Horizontal) {
            paint::hairline(*painter, option->rect.bottomLeft(), option->rect.bottomRight(), t.outline);
        }
        return;
    case CE_HeaderLabel:
        if (const auto* o = as<QStyleOptionHeader>(option))
            return paint::headerLabel(t, *o, *painter, widget);
        break;
    case CE_ProgressBarGroove:
    case CE_ProgressBarLabel:
        return;
    case CE_ProgressBarContents:
        if (const auto* o = as<QStyleOptionProgressBar>(option))
            return paint::progress(t, *o, *painter);
        break;
    case CE_TabBarTabShape:
        if (const auto* o = as<QStyleOptionTab>(option))
            return paint::tabShape(t, *o, *painter);
        break;
    case CE_TabBarTabLabel:
        if (const auto* o = as<QStyleOptionTab>(option))
            return paint::tabLabel(t, *o, *painter);
        break;
    case CE_Splitter:
        return paint::splitter(t, *option, *painter);
    case CE_MenuItem:
        if (const auto* o = as<QStyleOptionMenuItem>(option))
            return paint::menuItem(t, *o, *painter);
        break;
    case CE_MenuBarItem:
        if (const auto* o = as<QStyleOptionMenuItem>(option))
            return paint::menuBarItem(t, *o, *painter);
        break;
    case CE_MenuEmptyArea:
    case CE_MenuBarEmptyArea:
        painter->fillRect(option->rect, element == CE_MenuEmptyArea ? t.raised : t.paper);
        return;
    default:
        break;
    }
    QProxyStyle::drawControl(element, option, painter, widget);
}

void PaperStyle::drawComplexControl(ComplexControl control, const QStyleOptionComplex* option,
                                    QPainter* painter, const QWidget* widget) const {
    const Tokens& t = tokens_;
    switch (control) {
    case CC_ScrollBar:
        if (const auto* o = as<QStyleOptionSlider>(option))
            return paint::scrollBar(t, *o, *painter, widget);
        break;
    case CC_Slider:
        if (const auto* o = as<QStyleOptionSlider>(option))
            return paint::slider(t, *o, *painter, widget);
        break;
    case CC_ComboBox:
        if (const auto* o = as<QStyleOptionComboBox>(option))
            return paint::comboBox(t, *o, *painter, widget);
        break;
    case CC_SpinBox:
        if (const auto* o = as<QStyleOptionSpinBox>(option))
            return paint::spinBox(t, *o, *painter, widget);
        break;
    case CC_GroupBox:
        if (const auto* o = as<QStyleOptionGroupBox>(option))
            return paint::groupBox(t, *o, *painter, widget);
        break;
    case CC_ToolButton:
        if (const auto* o = as<QStyleOptionToolButton>(option))
            return paint::toolButton(t, *o, *painter, widget);
        break;
    default:
        break;
    }
    QProxyStyle::drawComplexControl(control, option, painter, widget);
}

} // namespace milehold::ui
