// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_rows.h"

#include <QAbstractTableModel>

namespace milehold::ui {

/// The list of one drawer; read-only.
class ShelfTableModel : public QAbstractTableModel {
    Q_OBJECT
public:
    explicit ShelfTableModel(QObject* parent = nullptr) : QAbstractTableModel(parent) {}

    void setTable(ShelfTable table);
    const ShelfTable& table() const { return table_; }
    const ShelfRow& row(int index) const { return table_.rows[static_cast<std::size_t>(index)]; }
    /// -1 when it is not listed.
    int rowOf(const core::Uuid& id) const;

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    ShelfTable table_;
};

} // namespace milehold::ui
