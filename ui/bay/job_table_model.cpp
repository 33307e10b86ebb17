// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/job_table_model.h"

#include "ui/widgets/engine_plan.h"
#include "ui/widgets/roles.h"
#include "ui/widgets/text.h"

namespace milehold::ui {
namespace {

qlonglong dayNumber(core::Date date) {
    return date.ok() ? std::chrono::sys_days(date).time_since_epoch().count() : -1;
}

core::Date dayOf(const JobListRow& row) {
    return row.delivered.value_or(row.writtenUp);
}

/// The engine with the phasers that the path works on filled.
EngineBadge badgeOf(const JobListRow& row) {
    EngineBadge badge{row.family->banks, row.family->positions, {}};
    for (const auto position : row.positions)
        badge.states[position].work = PhaserWork::Replaced;
    return badge;
}

bool isWatched(JobStanding standing) {
    return standing >= JobStanding::NeverHeld && standing <= JobStanding::EndedOtherwise;
}

} // namespace

JobStanding standingOf(const JobListRow& row) {
    if (row.voided)
        return JobStanding::Void;
    if (!row.delivered)
        return JobStanding::InWork;
    if (!row.state)
        return JobStanding::Done;
    switch (*row.state) {
    case core::LifeState::Holding:
        return JobStanding::Holding;
    case core::LifeState::CameBack:
        return JobStanding::CameBack;
    case core::LifeState::NeverHeld:
        return JobStanding::NeverHeld;
    case core::LifeState::LostSight:
        return JobStanding::LostSight;
    case core::LifeState::EndedOtherwise:
        return JobStanding::EndedOtherwise;
    }
    return JobStanding::Done;
}

Status statusOf(JobStanding standing) {
    switch (standing) {
    case JobStanding::InWork:
        return {StatusShape::HalfDisc, StatusTone::Amber, JobTableModel::tr("In work")};
    case JobStanding::NeverHeld:
        return statusOf(core::LifeState::NeverHeld);
    case JobStanding::CameBack:
        return statusOf(core::LifeState::CameBack);
    case JobStanding::Holding:
        return statusOf(core::LifeState::Holding);
    case JobStanding::LostSight:
        return statusOf(core::LifeState::LostSight);
    case JobStanding::EndedOtherwise:
        return statusOf(core::LifeState::EndedOtherwise);
    case JobStanding::Done:
        return {StatusShape::Diamond, StatusTone::Soft, JobTableModel::tr("Done")};
    case JobStanding::Void:
        return {StatusShape::Cross, StatusTone::Soft, JobTableModel::tr("Void")};
    }
    return {};
}

void JobTableModel::setJobs(std::vector<JobListRow> rows) {
    beginResetModel();
    rows_ = std::move(rows);
    endResetModel();
}

void JobTableModel::setUnit(core::DistanceUnit unit) {
    if (unit_ == unit)
        return;
    unit_ = unit;
    if (!rows_.empty())
        emit dataChanged(index(0, Odometer), index(rowCount() - 1, Known));
}

int JobTableModel::rowOf(core::JobId id) const {
    for (std::size_t i = 0; i < rows_.size(); ++i)
        if (rows_[i].id == id)
            return static_cast<int>(i);
    return -1;
}

int JobTableModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}

int JobTableModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : int{ColumnCount};
}

QString JobTableModel::textOf(const JobListRow& row, int column) const {
    const JobStanding standing = standingOf(row);
    switch (column) {
    case Number:
        return row.number > 0 ? QString::number(row.number) : tr("new");
    case Standing:
        return statusOf(standing).word;
    case Vehicle:
        return toText(row.vehicleLabel);
    case Plate:
        return toText(row.plate);
    case Customer:
        return toText(row.customer);
    case Engine:
        return row.family ? toText(row.family->name) : QString();
    case Path:
        if (row.kind == core::JobKind::Visit)
            return tr("Visit for something else");
        if (row.kind == core::JobKind::Elsewhere)
            return row.path.empty() ? tr("Repaired elsewhere") : tr("Elsewhere: %1").arg(toText(row.path));
        return row.path.empty() ? tr("No path yet") : toText(row.path);
    case Day:
        return dateText(dayOf(row));
    case Odometer:
        return row.odometer ? distanceText(*row.odometer, unit_) : QString();
    case Known:
        return isWatched(standing) ? distanceText(row.known, unit_) : QString();
    case Technician:
        return toText(row.technician);
    default:
        return {};
    }
}

QVariant JobTableModel::sortKeyOf(const JobListRow& row, int column) const {
    switch (column) {
    case Number:
        return qlonglong{row.number};
    case Standing:
        return static_cast<int>(standingOf(row));
    case Day:
        return dayNumber(dayOf(row));
    case Odometer:
        return row.odometer ? qlonglong{row.odometer->metres()} : -1LL;
    case Known:
        return isWatched(standingOf(row)) ? qlonglong{row.known.metres()} : -1LL;
    default:
        return textOf(row, column);
    }
}

QVariant JobTableModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid() || index.row() >= rowCount())
        return {};
    const JobListRow& row = rows_[static_cast<std::size_t>(index.row())];
    switch (role) {
    case Qt::DisplayRole:
        return textOf(row, index.column());
    case Qt::ToolTipRole: {
        const QString shown = textOf(row, index.column());
        if (index.column() == Vehicle && !row.vin.empty())
            return tr("%1\nVIN %2").arg(shown, toText(row.vin));
        return shown;
    }
    case Qt::TextAlignmentRole:
        if (index.column() == Number || index.column() == Odometer || index.column() == Known)
            return int{Qt::AlignRight | Qt::AlignVCenter};
        return int{Qt::AlignLeft | Qt::AlignVCenter};
    case kSortRole:
        return sortKeyOf(row, index.column());
    case kIdRole:
        return toText(core::toString(row.id.uuid));
    case kStatusRole:
        return index.column() == Standing ? QVariant::fromValue(statusOf(standingOf(row))) : QVariant();
    case kBadgeRole:
        return index.column() == Engine && row.family ? QVariant::fromValue(badgeOf(row)) : QVariant();
    case kSoftRole:
        return row.voided;
    default:
        return {};
    }
}

QVariant JobTableModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal)
        return {};
    if (role == Qt::TextAlignmentRole) {
        const bool figures = section == Number || section == Odometer || section == Known;
        return int((figures ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
    }
    if (role != Qt::DisplayRole)
        return {};
    switch (section) {
    case Number:
        return tr("Job");
    case Standing:
        return tr("State");
    case Vehicle:
        return tr("Vehicle");
    case Plate:
        return tr("Plate");
    case Customer:
        return tr("Customer");
    case Engine:
        return tr("Engine");
    case Path:
        return tr("Repair path");
    case Day:
        return tr("Date");
    case Odometer:
        return tr("Odometer");
    case Known:
        return tr("Known quiet");
    case Technician:
        return tr("Technician");
    default:
        return {};
    }
}

} // namespace milehold::ui
