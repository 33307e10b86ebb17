// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/group_model.h"

#include <QTableView>

class QSortFilterProxyModel;

namespace milehold::ui {

/// The groups beside the chart. Every figure opens its jobs, by a click or Enter; Space or a click on the
/// line puts a group on the chart or takes it off.
class GroupTable : public QTableView {
    Q_OBJECT
public:
    explicit GroupTable(QWidget* parent = nullptr);

    GroupModel& groups() { return *model_; }
    void setView(std::shared_ptr<const OfficeView> view);
    /// The row of the view that has the keyboard, -1 without one.
    int currentGroup() const { return rowOf(currentIndex()); }

signals:
    void figureActivated(int row, milehold::ui::GroupFigure figure); ///< row of the view
    void currentGroupChanged(int row);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void currentChanged(const QModelIndex& current, const QModelIndex& previous) override;

private:
    int rowOf(const QModelIndex& index) const;
    void activateFigure(const QModelIndex& index);
    void toggle(const QModelIndex& index);
    void layOutColumns();

    GroupModel* model_ = nullptr;
    QSortFilterProxyModel* sorted_ = nullptr;
};

} // namespace milehold::ui
