// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "core/quantity/money.h"
#include "core/shop/engine.h"
#include "core/shop/job.h"
#include "ui/widgets/status.h"

#include <QAbstractTableModel>

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace milehold::ui {

/// A job as one row of the Bay's list.
struct JobListRow {
    core::JobId id;
    std::int64_t number = 0;
    std::string repairOrder;
    core::JobKind kind = core::JobKind::Repair;
    core::VehicleId vehicle;
    std::string vehicleLabel; ///< year, maker and model
    std::string vin;
    std::string plate;
    std::string customer;
    std::string path;
    std::optional<core::EngineFamily> family;
    std::vector<core::Position> positions; ///< of the phasers that were fitted
    std::string technician;
    core::Date writtenUp;
    std::optional<core::Date> delivered;
    std::optional<core::Distance> odometer; ///< out when delivered, else in
    core::DeliveryCheck deliveryCheck = core::DeliveryCheck::NotDone;
    bool voided = false;
    std::optional<core::LifeState> state; ///< of its life, where it has one
    core::Distance known;                 ///< of its life
    friend bool operator==(const JobListRow&, const JobListRow&) = default;
};

/// What the state column says of a row, in the order in which it sorts.
enum class JobStanding {
    InWork,
    NeverHeld,
    CameBack,
    Holding,
    LostSight,
    EndedOtherwise,
    Done, ///< delivered, and no repair of ours to watch
    Void,
};
JobStanding standingOf(const JobListRow& row);
Status statusOf(JobStanding standing);

/// The Bay's jobs, one a row, with the roles of roles.h.
class JobTableModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Column {
        Number,
        Standing,
        Vehicle,
        Plate,
        Customer,
        Engine,
        Path,
        Day,
        Odometer,
        Known,
        Technician,
        ColumnCount,
    };
    explicit JobTableModel(QObject* parent = nullptr) : QAbstractTableModel(parent) {}

    void setJobs(std::vector<JobListRow> rows);
    void setUnit(core::DistanceUnit unit);
    const JobListRow& job(int row) const { return rows_.at(static_cast<std::size_t>(row)); }
    /// -1 when it is not among the rows.
    int rowOf(core::JobId id) const;

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    QString textOf(const JobListRow& row, int column) const;
    QVariant sortKeyOf(const JobListRow& row, int column) const;

    std::vector<JobListRow> rows_;
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
};

} // namespace milehold::ui
