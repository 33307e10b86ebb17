// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/shelf_table_model.h"

#include "ui/widgets/roles.h"
#include "ui/widgets/text.h"

namespace milehold::ui {

void ShelfTableModel::setTable(ShelfTable table) {
    beginResetModel();
    table_ = std::move(table);
    endResetModel();
}

int ShelfTableModel::rowOf(const core::Uuid& id) const {
    for (std::size_t i = 0; i < table_.rows.size(); ++i)
        if (table_.rows[i].id == id)
            return static_cast<int>(i);
    return -1;
}

int ShelfTableModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(table_.rows.size());
}

int ShelfTableModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(table_.headers.size());
}

QVariant ShelfTableModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid())
        return {};
    const ShelfRow& line = row(index.row());
    if (static_cast<std::size_t>(index.column()) >= line.cells.size())
        return {};
    const ShelfCell& cell = line.cells[static_cast<std::size_t>(index.column())];
    switch (role) {
    case Qt::DisplayRole:
        return cell.text;
    case Qt::ToolTipRole:
        return cell.tip.isEmpty() ? QVariant() : cell.tip;
    case kSortRole:
        return cell.sort.isValid() ? cell.sort : QVariant(cell.text);
    case kIdRole:
        return toText(core::toString(line.id));
    case kStatusRole:
        return cell.status ? QVariant::fromValue(*cell.status) : QVariant();
    case kBadgeRole:
        return cell.badge ? QVariant::fromValue(*cell.badge) : QVariant();
    case kSoftRole:
        return cell.soft;
    default:
        return {};
    }
}

QVariant ShelfTableModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole || section >= table_.headers.size())
        return {};
    return table_.headers.at(section);
}

} // namespace milehold::ui
