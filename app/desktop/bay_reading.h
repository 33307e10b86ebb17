// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life.h"
#include "core/life/life_record.h"
#include "core/result.h"
#include "core/shop/settings.h"
#include "storage/job_store.h"
#include "storage/vehicle_store.h"
#include "ui/bay/job_card.h"
#include "ui/bay/job_table_model.h"
#include "ui/widgets/search_box.h"

#include <QList>
#include <QString>

#include <span>
#include <string>
#include <unordered_map>
#include <vector>

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// What a job sheet needs of the records.
struct SheetData {
    ui::JobCard card; ///< a blank job for a vehicle that was asked for without one
    core::VehicleHistory past;
    std::vector<core::Life> lives;
};

/// Both run on the database's thread.
core::Result<SheetData> readSheet(storage::Shop& shop, core::JobId job, const core::ShopSettings& rules,
                                  core::Date today);
core::Result<SheetData> readVehicleSheet(storage::Shop& shop, core::VehicleId vehicle,
                                         const core::ShopSettings& rules, core::Date today);

/// Rows of the Bay's list with the phasers that each job really fitted.
struct JobRows {
    std::vector<storage::JobRow> rows;
    std::unordered_map<core::JobId, std::vector<core::Position>> phasers;
};
/// On the database's thread; `most` bounds the look-ups of phasers, not the rows.
core::Result<JobRows> readJobRows(storage::Shop& shop, const storage::JobFilter& filter, std::size_t most);

/// Rows of the Bay's list, each with the state of its life.
std::vector<ui::JobListRow> toListRows(const JobRows& rows, const core::Shelf& shelf,
                                       std::span<const core::LifeRecord> lives);

/// What was found for a scan or typed text, and at its end the offer of a new vehicle. The keys are read by
/// chosenVehicle().
QList<ui::SearchResult> toResults(const QString& query, const std::vector<storage::VehicleHit>& hits);

/// A vehicle that somebody chose: one of the records, or the text for a new one.
struct ChosenVehicle {
    std::optional<core::VehicleId> known;
    QString fresh;
};
ChosenVehicle chosenVehicle(const QVariant& key);
/// A new vehicle from what was scanned or typed: its VIN with the year that it tells, or its plate, or a
/// customer's name.
ui::JobCard cardForNew(const QString& typed);

/// The newest change of a job: who made it, and the fields in words. Blank where the log does not tell.
struct ChangeOfJob {
    std::string who;    ///< a name, else the station
    std::string fields; ///< `odometer out, hours`
};
core::Result<ChangeOfJob> whoChanged(storage::Shop& shop, core::JobId job);

} // namespace milehold::app
