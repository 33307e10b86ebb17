// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QHeaderView>
#include <QStyledItemDelegate>

namespace milehold::ui {

/// Paints a chance over its limits, or one line of what a path's figures rest on.
class OptionDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
};

/// Heads a column with the path's name, its price and time; heads a row with its distance.
class OptionHeader : public QHeaderView {
public:
    OptionHeader(Qt::Orientation orientation, QWidget* parent);
    void setChosen(int section);
    QSize sizeHint() const override;

protected:
    void paintSection(QPainter* painter, const QRect& rect, int section) const override;

private:
    void paintPath(QPainter& painter, const QRect& rect, int section) const;
    void paintRow(QPainter& painter, const QRect& rect, int section) const;

    int chosen_ = -1;
};

inline constexpr int kOneLineRow = 32; ///< a chance with its limits beside it
inline constexpr int kTwoLineRow = 42; ///< ... under it, in narrow columns
inline constexpr int kFactRow = 25;

} // namespace milehold::ui
