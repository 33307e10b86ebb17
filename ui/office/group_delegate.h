// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QStyledItemDelegate>

namespace milehold::ui {

/// Paints a figure and, smaller and softer under it, what it rests on. The first column carries the group's
/// line as it is drawn in the chart, with a check box; a name that does not fit goes on in a second line.
class GroupDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    /// The check box and line of a cell of the first column.
    static QRect markRect(const QRect& cell);

private:
    static void paintFocus(QPainter* painter, const QStyleOptionViewItem& option);
};

} // namespace milehold::ui
