// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/group_model.h"

#include "ui/widgets/roles.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/chance.h"

#include <algorithm>
#include <map>

namespace milehold::ui {

void GroupModel::setView(std::shared_ptr<const OfficeView> view) {
    std::map<std::string, int> before;
    for (std::size_t row = 0; row < looks_.size(); ++row) {
        if (looks_[row] >= 0)
            before[view_->groups[row].name] = looks_[row];
    }
    const bool sameFacet = view_ && view->query.facet == view_->query.facet;

    beginResetModel();
    view_ = std::move(view);
    looks_.assign(view_->groups.size(), -1);
    bool any = false;
    if (sameFacet) {
        for (std::size_t row = 0; row < looks_.size(); ++row) {
            const auto kept = before.find(view_->groups[row].name);
            if (kept == before.end())
                continue;
            looks_[row] = kept->second;
            any = true;
        }
    }
    for (std::size_t row = 0; !any && row < looks_.size() && row < kMostShown; ++row) {
        if (view_->groups[row].curve.size() > 0)
            looks_[row] = freeLook();
    }
    endResetModel();
}

std::vector<int> GroupModel::shownRows() const {
    std::vector<int> rows;
    for (int row = 0; row < rowCount(); ++row) {
        if (lookOf(row) >= 0)
            rows.push_back(row);
    }
    return rows;
}

GroupFigure GroupModel::figureOf(int column) {
    switch (column) {
    case CameBack:
        return GroupFigure::CameBack;
    case Known:
        return GroupFigure::Known;
    case Half:
        return GroupFigure::Half;
    case AtMark:
        return GroupFigure::AtMark;
    default:
        return GroupFigure::Name;
    }
}

int GroupModel::freeLook() const {
    for (int look = 0; look < kMostShown; ++look) {
        if (std::find(looks_.begin(), looks_.end(), look) == looks_.end())
            return look;
    }
    return -1;
}

int GroupModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() || !view_ ? 0 : static_cast<int>(view_->groups.size());
}

int GroupModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : ColumnCount;
}

QVariant GroupModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid())
        return {};
    const OfficeGroup& row = group(index.row());
    switch (role) {
    case Qt::DisplayRole:
        return figure(row, index.column());
    case UnderRole:
        return under(row, index.column());
    case FaintRole:
        if (index.column() == Half)
            return medianWords(row, view_->query.unit).faint;
        return index.column() == AtMark && chanceAtMark(row).faint;
    case kSortRole:
        return sortKey(row, index.column());
    case LookRole:
        return lookOf(index.row());
    case Qt::CheckStateRole:
        if (index.column() != Name)
            return {};
        return lookOf(index.row()) >= 0 ? Qt::Checked : Qt::Unchecked;
    case Qt::ToolTipRole:
        return tr("Opens the jobs behind it: %1").arg(jobsBehind(row, figureOf(index.column()), *view_).why);
    case Qt::AccessibleTextRole:
        return tr("%1, %2: %3, %4")
            .arg(groupName(row), headerData(index.column(), Qt::Horizontal, Qt::DisplayRole).toString(),
                 figure(row, index.column()), under(row, index.column()));
    default:
        return {};
    }
}

bool GroupModel::setData(const QModelIndex& index, const QVariant& value, int role) {
    if (role != Qt::CheckStateRole || index.column() != Name)
        return false;
    int& look = looks_[static_cast<std::size_t>(index.row())];
    const bool show = value.toInt() == Qt::Checked;
    if (show == (look >= 0))
        return true;
    const int given = show ? freeLook() : -1;
    if (show && (given < 0 || group(index.row()).curve.size() == 0))
        return false;
    look = given;
    emit dataChanged(index, index.siblingAtColumn(ColumnCount - 1));
    emit shownChanged();
    return true;
}

QVariant GroupModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal || !view_)
        return {};
    if (role == Qt::TextAlignmentRole) {
        return static_cast<int>((section == Name ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
    }
    if (role != Qt::DisplayRole)
        return {};
    switch (section) {
    case Name:
        return tr("Group");
    case CameBack:
        return tr("Back");
    case Known:
        return tr("Known");
    case Half:
        return tr("Half back by");
    case AtMark:
        return tr("At %1").arg(distanceText(view_->mark, view_->query.unit));
    default:
        return {};
    }
}

Qt::ItemFlags GroupModel::flags(const QModelIndex& index) const {
    Qt::ItemFlags flags = Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemNeverHasChildren;
    if (index.column() == Name)
        flags |= Qt::ItemIsUserCheckable;
    return flags;
}

QString GroupModel::figure(const OfficeGroup& group, int column) const {
    switch (column) {
    case Name:
        return groupName(group);
    case CameBack:
        return countText(group.comebacks());
    case Known:
        return shortCountText(group.evidence.known) + QChar(0x00a0) + unitSign(view_->query.unit);
    case Half:
        return medianWords(group, view_->query.unit).figure;
    case AtMark:
        return chanceAtMark(group).figure;
    default:
        return {};
    }
}

QString GroupModel::under(const OfficeGroup& group, int column) const {
    switch (column) {
    case Name:
        return group.lost() > 0 ? tr("lost sight of %1").arg(countText(group.lost())) : QString();
    case CameBack:
        return tr("of %1").arg(countText(group.lives()));
    case Known:
        return group.evidence.completeness ? tr("%1 followed").arg(shareText(*group.evidence.completeness))
                                           : tr("none driven");
    case Half:
        return medianWords(group, view_->query.unit).under;
    case AtMark:
        return chanceAtMark(group).under;
    default:
        return {};
    }
}

QVariant GroupModel::sortKey(const OfficeGroup& group, int column) const {
    switch (column) {
    case Name:
        return group.name.empty() ? QStringLiteral("\uffff") : toText(group.name).toCaseFolded();
    case CameBack:
        return group.comebacks();
    case Known:
        return group.evidence.known;
    case Half:
        return group.median.miles.value_or(1e12 + group.curve.longestWatched);
    case AtMark:
        return group.readings.known.value_or(-1);
    default:
        return {};
    }
}

} // namespace milehold::ui
