// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/tab_order.h"

#include <QApplication>
#include <QComboBox>
#include <QLayout>
#include <QScrollArea>

namespace milehold::ui {
namespace {

void collect(QWidget* widget, QList<QWidget*>& stops);

void collect(const QLayout* layout, QList<QWidget*>& stops) {
    for (int i = 0; i < layout->count(); ++i) {
        QLayoutItem* item = layout->itemAt(i);
        if (QWidget* widget = item->widget())
            collect(widget, stops);
        else if (const QLayout* inner = item->layout())
            collect(inner, stops);
    }
}

void collect(QWidget* widget, QList<QWidget*>& stops) {
    if (!widget->isVisible() || !widget->isEnabled())
        return;
    if (auto* area = qobject_cast<QScrollArea*>(widget)) {
        if (area->widget())
            collect(area->widget(), stops);
        return;
    }
    if (widget->focusProxy() && widget->isAncestorOf(widget->focusProxy())) {
        stops << widget;
        return;
    }
    if (widget->focusPolicy() & Qt::TabFocus)
        stops << widget;
    if (qobject_cast<QComboBox*>(widget) || qobject_cast<QAbstractScrollArea*>(widget))
        return;
    if (const QLayout* layout = widget->layout())
        collect(layout, stops);
}

/// The first or last place outside `root` that takes the keyboard; null when `root` is all there is.
QWidget* stopOutside(const QWidget* root, bool next) {
    QWidget* const window = root->window();
    QWidget* found = nullptr;
    for (QWidget* widget = window->nextInFocusChain(); widget && widget != window;
         widget = widget->nextInFocusChain()) {
        if (!(widget->focusPolicy() & Qt::TabFocus) || !widget->isVisible() || !widget->isEnabled() ||
            widget->focusProxy() || widget == root || root->isAncestorOf(widget))
            continue;
        if (next)
            return widget;
        found = widget;
    }
    return found;
}

} // namespace

QList<QWidget*> tabStops(QWidget* root) {
    QList<QWidget*> stops;
    collect(root, stops);
    return stops;
}

bool focusNextStop(QWidget* root, bool next) {
    const QList<QWidget*> stops = tabStops(root);
    const QWidget* now = QApplication::focusWidget();
    qsizetype at = -1;
    for (qsizetype i = 0; i < stops.size(); ++i)
        if (stops[i] == now || (now && stops[i]->isAncestorOf(now)))
            at = i;
    const Qt::FocusReason reason = next ? Qt::TabFocusReason : Qt::BacktabFocusReason;
    const qsizetype to = next ? at + 1 : at - 1;
    if (to >= 0 && to < stops.size()) {
        stops[to]->setFocus(reason);
        return true;
    }
    QWidget* beyond = stopOutside(root, next);
    if (!beyond && !stops.isEmpty())
        beyond = next ? stops.first() : stops.last();
    if (!beyond)
        return false;
    beyond->setFocus(reason);
    return true;
}

} // namespace milehold::ui
