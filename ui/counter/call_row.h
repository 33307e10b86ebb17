// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QStyledItemDelegate>

namespace milehold::ui {

/// Paints a call in the list: who, with which vehicle, why. The item's text is the customer.
class CallRow : public QStyledItemDelegate {
    Q_OBJECT
public:
    enum Role { Detail = Qt::UserRole + 1, Reason, Due, Warranty };
    using QStyledItemDelegate::QStyledItemDelegate;

    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
};

} // namespace milehold::ui
