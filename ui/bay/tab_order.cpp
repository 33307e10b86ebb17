// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/tab_order.h"

#include <QAbstractItemView>
#include <QComboBox>
#include <QLayout>
#include <QPlainTextEdit>
#include <QScrollArea>

namespace milehold::ui {
namespace {

void collect(QWidget* widget, QList<QWidget*>& order);

void collect(const QLayout* layout, QList<QWidget*>& order) {
    for (int i = 0; i < layout->count(); ++i) {
        QLayoutItem* item = layout->itemAt(i);
        if (QWidget* widget = item->widget())
            collect(widget, order);
        else if (const QLayout* inner = item->layout())
            collect(inner, order);
    }
}

void collect(QWidget* widget, QList<QWidget*>& order) {
    if (auto* area = qobject_cast<QScrollArea*>(widget)) {
        if (area->widget())
            collect(area->widget(), order);
        return;
    }
    const bool whole = qobject_cast<QComboBox*>(widget) || qobject_cast<QAbstractScrollArea*>(widget);
    if (widget->focusPolicy() & Qt::TabFocus)
        order << widget;
    if (whole)
        return;
    if (const QLayout* layout = widget->layout()) {
        collect(layout, order);
        return;
    }
    // Places its children itself: in the order in which they were made.
    for (QObject* child : widget->children())
        if (auto* inner = qobject_cast<QWidget*>(child); inner && !inner->isWindow())
            collect(inner, order);
}

} // namespace

void orderTabs(QWidget* root) {
    QList<QWidget*> order;
    collect(root, order);
    for (qsizetype i = 1; i < order.size(); ++i)
        QWidget::setTabOrder(order[i - 1], order[i]);
}

} // namespace milehold::ui
