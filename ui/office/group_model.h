// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/figure_jobs.h"
#include "ui/office/office_view.h"

#include <QAbstractTableModel>

#include <memory>
#include <vector>

namespace milehold::ui {

/// The groups of a view as rows: every cell a figure and, under it, what it rests on.
class GroupModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Column { Name, CameBack, Known, Half, AtMark, ColumnCount };
    enum Role { UnderRole = Qt::UserRole + 50, FaintRole, LookRole };
    /// So many curves at once stay tellable apart.
    static constexpr int kMostShown = 6;

    explicit GroupModel(QObject* parent = nullptr) : QAbstractTableModel(parent) {}

    /// Shows another view; groups that were on the chart before stay there, the first ones are put there when
    /// none is.
    void setView(std::shared_ptr<const OfficeView> view);
    const OfficeView* view() const { return view_.get(); }
    const OfficeGroup& group(int row) const { return view_->groups[static_cast<std::size_t>(row)]; }
    /// Rows of the groups on the chart, in the order of the view.
    std::vector<int> shownRows() const;
    /// The line look of a row, or -1 when it is not on the chart. Stays with a group while it is shown.
    int lookOf(int row) const { return looks_[static_cast<std::size_t>(row)]; }
    static GroupFigure figureOf(int column);

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role) override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    Qt::ItemFlags flags(const QModelIndex& index) const override;

signals:
    void shownChanged();

private:
    QString figure(const OfficeGroup& group, int column) const;
    QString under(const OfficeGroup& group, int column) const;
    QVariant sortKey(const OfficeGroup& group, int column) const;
    int freeLook() const;

    std::shared_ptr<const OfficeView> view_;
    std::vector<int> looks_;
};

} // namespace milehold::ui
